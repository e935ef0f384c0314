package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var repeated = rules.Rule{
	Name:     "part/repeated",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/repeated", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " stands in the parts list twice"
			x.Do = "join the two rows, or give one of the parts another name"
		})
	},
}
