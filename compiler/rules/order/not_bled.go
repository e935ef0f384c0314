package order

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notBled = rules.Rule{
	Name:     "order/not-bled",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/not-bled", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " was opened and its fluid filled, and nothing is bled"
			x.Do = "add {bleed the " + f.Words[0] + "} after the fill, before the test"
		})
	},
}
