package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notText = rules.Rule{
	Name:     "file/not-text",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/not-text", func(f source.Fault, x *diag.Finding) {
			x.Message = "this file can't be read as text: " + rules.WordAt(f, 0)
			x.Do = "open it in a text editor and save it as plain text in UTF-8"
		})
	},
}
