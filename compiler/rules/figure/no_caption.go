package figure

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var noCaption = rules.Rule{
	Name:     "figure/no-caption",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("figure/no-caption", func(f source.Fault, x *diag.Finding) {
			x.Message = "the picture " + rules.Quote(f.Words[0]) + " has no caption"
			x.Do = "write what it shows between the square brackets: ![What it shows](" + f.Words[0] + ")"
		})
	},
}
