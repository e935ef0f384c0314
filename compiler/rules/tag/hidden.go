package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var hidden = rules.Rule{
	Name:     "tag/hidden",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/hidden", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " stands in " + f.Words[1] + ", where it does nothing and prints as typed"
			x.Do = "write it as plain text of a step"
		})
	},
}
