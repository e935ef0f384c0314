package wording

import (
	"fmt"
	"regexp"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/rules"
)

// The most words that a sentence may have: ASD-STE100 issue 9, 5.1 and 5.5, read in restatements.
const (
	mostInOrder = 20
	mostInNote  = 25
)

// mayBeLong tells whether a text has a sentence that is too long when every word of a name counts.
func mayBeLong(p *rules.Passage, text string) bool {
	if strings.Count(text, " ") < mostInOrder {
		return false
	}
	spaced, crowded := false, p.Kind == rules.Instructing
	for c, next := prose.First(text, 0); c.To > 0 && !(spaced && crowded); c, next = prose.First(text, next) {
		spaced = spaced || strings.Count(text[c.From:c.To], " ") >= mostInOrder
		crowded = crowded || atMost(text[c.From:c.To]) > mostInNote
	}
	return spaced && crowded
}

// longSentence marks the passages with such a text: few have one.
var longSentence = rules.NewMark(func(_ *rules.Job, p *rules.Passage) (found bool) {
	eachText(p, func(_ []procedure.Run, text string) { found = found || mayBeLong(p, text) })
	return found
})

// atMost is more than the words of a sentence, or as many: each byte that may be white space, or a part of it, counts.
func atMost(s string) int {
	n := 1
	for i := range len(s) {
		if s[i] <= ' ' || s[i] >= 0x80 {
			n++
		}
	}
	return n
}

// pattern is the order of a torque with its passes, which count as one word.
var (
	pattern        = regexp.MustCompile(`(?i)(crosswise|from the centre|in order)( in x+)?`)
	patternPhrases = rules.NewPhrases("crosswise", "from the centre", "in order") // searching for the pattern is dear
)

var long = rules.Rule{
	Name:     "wording/long",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachSaid(j, nil, func(p *rules.Passage, text string) bool {
			return longSentence.On(j, p) && (!p.Lines || mayBeLong(p, text))
		}, func(s *said) {
			for _, c := range prose.Cut(s.plain) {
				if atMost(s.plain[c.From:c.To]) <= mostInOrder {
					continue
				}
				words := s.plain[c.From:c.To]
				if patternPhrases.MayBeIn(s.passage) {
					words = pattern.ReplaceAllStringFunc(words, func(p string) string { return prose.Mask(len(p)) })
				}
				most := mostInNote
				if act, _ := s.ordered(c.From, c.To); s.passage.Kind == rules.Instructing && (act || prose.Order(words) != "") {
					most = mostInOrder
				}
				n := prose.Count(words)
				if n <= most {
					continue
				}
				what := "an instruction"
				if most == mostInNote {
					what = "a sentence that tells"
				}
				all = append(all, diag.Finding{
					At: s.at(c.From, c.To), Step: s.passage.Within,
					Message: fmt.Sprintf("%s has %d words, and %d are the most for %s", rules.Quote(s.text[c.From:c.To]), n, most, what),
					Do:      "make two sentences of it, or put the rest into a note",
				})
			}
		})
		return all
	},
}
