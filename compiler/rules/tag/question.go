package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var question = rules.Rule{
	Name:     "tag/question",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/question", func(f source.Fault, x *diag.Finding) {
			x.Message = "an open question stands here: " + rules.QuoteWhole(f.Words[0])
			x.Do = "answer it in the steps, then take the question out"
		})
	},
}
