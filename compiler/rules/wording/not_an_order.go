package wording

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/prose"
	"refitcard/compiler/rules"
)

// modals are parts of the words that prose.Told looks for.
var (
	modals        = []string{"should", "must", "shall", " to be ", "need", "have to", "has to", "ought to"}
	modalPhrases  = rules.NewPhrases(modals...)
	modalsWritten = rules.NewFact(func(j *rules.Job) bool { return written(j, modals...) })
)

var notAnOrder = rules.Rule{
	Name:     "wording/not-an-order",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachSaid(j, modalPhrases, func(_ *rules.Passage, text string) bool { return mentions(text, modals) && modalsWritten.Of(j) }, func(s *said) {
			for _, c := range prose.Cut(s.plain) {
				from, to, verb := prose.Told(s.plain[c.From:c.To])
				if to == 0 {
					continue
				}
				from, to = from+c.From, to+c.From
				all = append(all, diag.Finding{
					At: s.at(from, to), Step: s.passage.Within,
					Message: fmt.Sprintf("%q describes the work and does not order it", s.text[from:to]),
					Do:      fmt.Sprintf("begin with the verb: %q", capital(verb)+" …"),
				})
			}
		})
		return all
	},
}

func capital(w string) string {
	if w != "" && 'a' <= w[0] && w[0] <= 'z' {
		return string(w[0]-'a'+'A') + w[1:]
	}
	return w
}
