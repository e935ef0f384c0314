package safety

import (
	"fmt"
	"regexp"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

// elsewhere finds words that send the reader to another paper. "see" counts at the start of a clause alone: a reader may well
// see a manual valve.
var elsewhere = regexp.MustCompile(`(?i)(?:^|[.,;:(–] ?)(?:please |also )?(see (?:also )?|refer to |consult )(?:the |this |your )?(?:[a-z']+ )?(page|manual|handbook|chapter|section|appendix|instructions|data sheet|drawing)\b|\b((?:as )?(?:described|shown|given|laid down) (?:in|on) )(?:the |this |your )?(?:[a-z']+ )?(page|manual|handbook|chapter|section|appendix|data sheet)\b`)

// papers are what it may send to.
var papers = rules.NewPhrases("page", "manual", "handbook", "chapter", "section", "appendix", "instructions", "data sheet", "drawing")

var pointsElsewhere = rules.Rule{
	Name:     "safety/points-elsewhere",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, m := range j.Messages() {
			if !papers.MayBeIn(m.Passage) {
				continue
			}
			at := elsewhere.FindStringSubmatchIndex(m.Text)
			if at == nil || adjective(m.Text[at[1]:]) {
				continue
			}
			from := at[2]
			if from < 0 {
				from = at[6]
			}
			all = append(all, diag.Finding{
				At: m.Place(from, at[1]), Step: m.Step,
				Message: fmt.Sprintf("%q sends the reader away from the danger to another paper", m.Text[from:at[1]]),
				Do:      "say here what to do about the hazard",
			})
		}
		return all
	},
}

// linking are words that follow a noun.
var linking = set("of for on in at before first to by and or with from about when where that which if")

// adjective tells whether the word before was one: "the manual valve".
func adjective(rest string) bool {
	if !strings.HasPrefix(rest, " ") {
		return false
	}
	f := wordList(rest)
	if len(f) == 0 {
		return false
	}
	return !linking[f[0]] && f[0][0] > '9'
}
