package order

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var measuredEarly = rules.Rule{
	Name:     "order/measured-early",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/measured-early", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("the %s is measured while its %s is slack", f.Words[0], f.Words[1])
			x.Do = "tighten the " + f.Words[1] + " first, then measure"
		})
	},
}
