package refit

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notTorqued = rules.Rule{
	Name:     "refit/not-torqued",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/not-torqued", func(f source.Fault, x *diag.Finding) {
			n, qty := rules.CountAt(f, 0), rules.CountAt(f, 1)
			x.Message = never(n, qty, f.Words[0], "gets its", "get their") + " torque of " + rules.WordAt(f, 2)
			x.Do = "add {torque " + all(qty, f.Words[0]) + " to " + rules.WordAt(f, 2) + "} after this act"
			if n < qty {
				x.Do = fmt.Sprintf("torque all %d in one act, or add the act for the other %d", qty, n)
			}
		})
	},
}
