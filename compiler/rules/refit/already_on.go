package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var alreadyOn = rules.Rule{
	Name:     "refit/already-on",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/already-on", func(f source.Fault, x *diag.Finding) {
			x.Message = subject(f) + " on already when this act " + rules.Quote(f.Words[2]) + " comes"
			x.Do = "take the act out, or add the act that takes the part off before it"
		})
	},
}
