package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var repeatedKey = rules.Rule{
	Name:     "file/repeated-key",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/repeated-key", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " stands in the front matter twice"
			x.Do = "keep one of the two lines"
		})
	},
}
