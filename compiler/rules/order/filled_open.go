package order

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var filledOpen = rules.Rule{
	Name:     "order/filled-open",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/filled-open", func(f source.Fault, x *diag.Finding) {
			fluid, part := f.Words[0], f.Words[1]
			x.Message = fmt.Sprintf("%q goes in while the %s is still off", fluid, part)
			x.Do = "fill it after the act that fits the " + part
			if rules.WordAt(f, 2) == "short of torque" {
				x.Message = fmt.Sprintf("%q goes in before the %s is tight", fluid, part)
				x.Do = "fill it after the act that torques the " + part
			}
		})
	},
}
