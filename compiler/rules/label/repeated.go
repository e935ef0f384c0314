package label

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var repeated = rules.Rule{
	Name:     "label/repeated",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("label/repeated", func(f source.Fault, x *diag.Finding) {
			x.Message = "the label " + rules.Quote(f.Words[0]) + " stands at two steps"
			x.Do = "give one of them another label"
		})
	},
}
