package section

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var repeated = rules.Rule{
	Name:     "section/repeated",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("section/repeated", func(f source.Fault, x *diag.Finding) {
			x.Message = "there is a second section " + rules.Quote(f.Words[0])
			x.Do = "put its lines into the first one"
		})
	},
}
