package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notFilled = rules.Rule{
	Name:     "refit/not-filled",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/not-filled", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is drained and never filled again"
			x.Do = "add {fill the " + f.Words[0] + "}, or list \"drain " + f.Words[0] + "\" under \"leaves\""
		})
	},
}
