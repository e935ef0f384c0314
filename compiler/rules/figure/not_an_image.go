package figure

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notAnImage = rules.Rule{
	Name:     "figure/not-an-image",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("figure/not-an-image", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " can't be printed as a picture: " + rules.WordAt(f, 1)
			x.Do = "save it again as PNG, JPEG or SVG"
		})
	},
}
