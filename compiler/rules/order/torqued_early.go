package order

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var torquedEarly = rules.Rule{
	Name:     "order/torqued-early",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/torqued-early", func(f source.Fault, x *diag.Finding) {
			done, later := rules.CountAt(f, 0), rules.CountAt(f, 1)
			x.Message = fmt.Sprintf("%s get their final torque here, and %d more go in later", rules.Some(done, done+later, f.Words[0]), later)
			x.Do = "install all of them first, then torque them together"
		})
	},
}
