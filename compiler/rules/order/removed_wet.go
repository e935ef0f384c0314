package order

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var removedWet = rules.Rule{
	Name:     "order/removed-wet",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/removed-wet", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("the %s comes off before the %s is drained", f.Words[0], f.Words[1])
			x.Do = "drain the " + f.Words[1] + " first, or in this step"
		})
	},
}
