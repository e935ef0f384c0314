package figure

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var outside = rules.Rule{
	Name:     "figure/outside",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("figure/outside", func(f source.Fault, x *diag.Finding) {
			x.Message = "the picture " + rules.Quote(f.Words[0]) + " lies outside the library"
			x.Do = "copy it into the library, and write its new path"
		})
	},
}
