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
		var scale scale
		for _, t := range torques.Of(j) {
			if f, bad := t.outOfRange(&scale); bad {
				all = append(all, f)
			}
		}
		all = append(all, beyondScale(j)...)
		return rules.Once(all, func(f diag.Finding) string { return fmt.Sprint(f.Thing, f.Severity) })
	},
}
