package wording

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

// mostActs is the most acts that a step should have: ASD-STE100 issue 9, 5.2, asks for one a sentence; three a step is
// common practice, no source.
const mostActs = 3

var manyActs = rules.Rule{
	Name:     "wording/many-acts",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		j.EachStep(func(s *procedure.Step) {
			var ticks []*procedure.Act
			for _, a := range s.Acts {
				if a.Verb.Ticks {
					ticks = append(ticks, a)
				}
			}
			if len(ticks) <= mostActs {
				return
			}
			all = append(all, diag.Finding{
				At: ticks[mostActs].At, Step: s.Number,
				Message: fmt.Sprintf("step %s has %d acts, and three are enough: this is the fourth", s.Name(), len(ticks)),
				Do:      "begin a new step here",
			})
		})
		return all
	},
}
