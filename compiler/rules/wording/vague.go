package wording

import (
	"fmt"
	"sync"

	"refitcard/compiler/diag"
	"refitcard/compiler/prose"
	"refitcard/compiler/rules"
)

// vagueStems are parts of the words that prose.Vague looks for, without a first letter that may be a capital.
var vagueStems = []string{
	"roperly", "ecurely", "orrect", "dequate", "ufficient", "ppropriate", "uitably", "atisfactor", "ormal", "ood", "ok", "OK", "kay",
	"cceptable", "proper", "required", "necessary", "needed",
}

var vague = rules.Rule{
	Name:     "wording/vague",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachSaid(j, vaguePhrases, func(_ *rules.Passage, text string) bool { return mayBeVague(text) && stemsWritten.Of(j) }, func(s *said) {
			for _, c := range prose.Cut(s.plain) {
				act, asks := s.ordered(c.From, c.To)
				from, to := prose.Vague(s.plain[c.From:c.To], act, asks)
				if to == 0 || limited(s, c) {
					continue
				}
				from, to = from+c.From, to+c.From
				all = append(all, diag.Finding{
					At: s.at(from, to), Step: s.passage.Within,
					Message: fmt.Sprintf("%q leaves it to the reader what is good enough", s.text[from:to]),
					Do:      "say what can be seen or measured: \"until it stops\", \"12..18 mm\", \"no drip in 5 min\"",
				})
			}
		})
		return all
	},
}

// mayBeVague tells whether a text has a word that prose.Vague looks for.
func mayBeVague(text string) bool {
	switch groups := vagueFinder().InText(text); {
	case groups == 0, groups == 1<<1 && !okay(text):
		return false
	}
	return mentions(text, vagueStems)
}

// vagueWords are the words, or their stems, that prose.Vague looks for, but for "ok", which many words hold.
var (
	vagueWords = []string{
		"properly", "securely", "correct", "adequate", "sufficient", "appropriate", "suitably", "satisfactor", "normal", "good", "okay", "acceptable",
		"proper", "required", "necessary", "needed",
	}
	vagueFinder  = sync.OnceValue(func() *rules.Finder { return rules.NewFinder(vagueWords, []string{"ok"}) })
	vaguePhrases = rules.NewPhrases(append(vagueWords[:len(vagueWords):len(vagueWords)], "ok")...)
	stemsWritten = rules.NewFact(func(j *rules.Job) bool { return written(j, vagueStems...) })
)

// okay tells whether "ok" stands in a text at the start of a word.
func okay(text string) bool {
	for i := range len(text) - 1 {
		if text[i]|0x20 == 'o' && text[i+1]|0x20 == 'k' && (i == 0 || !letter(text[i-1])) {
			return true
		}
	}
	return false
}

// limited tells whether an act of the sentence carries a limit: then that is the measure.
func limited(s *said, c prose.Span) bool {
	for i := c.From; i < c.To; i++ {
		if a := s.act(i); a != nil && (a.Limit != nil || a.Broken) {
			return true
		}
	}
	return false
}
