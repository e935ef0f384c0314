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
		for _, s := range j.Steps() {
			ticks := 0
			var fourth *procedure.Act
			for _, a := range s.Acts {
				if !a.Verb.Ticks {
					continue
				}
				if ticks++; ticks == mostActs+1 {
					fourth = a
				}
			}
			if fourth == nil {
				continue
			}
			all = append(all, diag.Finding{
				At: fourth.At, Step: s.Number,
				Message: fmt.Sprintf("step %s has %d acts, and three are enough: this is the fourth", s.Name(), ticks),
				Do:      "begin a new step here",
			})
		}
		return all
	},
}
