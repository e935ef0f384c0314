package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unclosed = rules.Rule{
	Name:     "tag/unclosed",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/unclosed", func(f source.Fault, x *diag.Finding) {
			x.Message = "the brace before " + rules.Quote(f.Words[0]) + " never closes"
			x.Do = "put } after the last word of the act"
		})
	},
}
