package order

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var neverAwaited = rules.Rule{
	Name:     "order/never-awaited",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/never-awaited", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is started, and no step waits for it"
			x.Do = "add {await " + f.Words[0] + "} before the step that needs it"
		})
	},
}
