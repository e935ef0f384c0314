package tool

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var repeated = rules.Rule{
	Name:     "tool/repeated",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tool/repeated", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " stands in the list of tools twice"
			x.Do = "take one of the two out"
		})
	},
}
