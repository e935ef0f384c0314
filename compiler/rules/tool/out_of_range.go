package tool

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var outOfRange = rules.Rule{
	Name:     "tool/out-of-range",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachTorque(j, func(t torqued) {
			if f, bad := t.outOfRange(); bad {
				all = append(all, f)
			}
		})
		all = append(all, beyondScale(j)...)
		return rules.Once(all, func(f diag.Finding) string { return fmt.Sprint(f.Thing, f.Severity) })
	},
}
