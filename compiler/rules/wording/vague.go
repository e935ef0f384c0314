package wording

import (
	"fmt"

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
		if !mayHold(j, vagueGroup) || !written(j, vagueStems...) {
			return nil
		}
		var all []diag.Finding
		eachSaid(j, false, mentions(vagueStems...), func(s *said) {
			for _, c := range prose.Cut(s.plain) {
				act, asks := s.ordered(c.From, c.To)
				from, to := prose.Vague(s.plain[c.From:c.To], act, asks)
				if to == 0 || limited(s, c) {
					continue
				}
				from, to = from+c.From, to+c.From
				all = append(all, diag.Finding{
					At: s.at(from, to), Step: s.step,
					Message: fmt.Sprintf("%q leaves it to the reader what is good enough", s.text[from:to]),
					Do:      "say what can be seen or measured: \"until it stops\", \"12..18 mm\", \"no drip in 5 min\"",
				})
			}
		})
		return all
	},
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
