package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var noSteps = rules.Rule{
	Name:     "file/no-steps",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/no-steps", func(f source.Fault, x *diag.Finding) {
			x.Message = "there are no steps"
			x.Do = "add a heading such as \"## Strip\" and a numbered list under it: 1. {Check the guide is clean}."
		})
	},
}
