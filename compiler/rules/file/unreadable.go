package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unreadable = rules.Rule{
	Name:     "file/unreadable",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/unreadable", func(f source.Fault, x *diag.Finding) {
			x.Message = "this file can't be opened: " + rules.WordAt(f, 0)
			x.Do = "look at its name and its permissions"
		})
	},
}
