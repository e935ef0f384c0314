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
			x.Message = subject(f) + " on already: there is nothing to " + f.Words[2]
			x.Do = "take the act out, or add the act that takes the part off before it"
			if f.Words[2] == "discard" {
				x.Message = subject(f) + " still on: only what is off can be discarded"
				x.Do = "take the act out, or take the part off before it"
			}
		})
	},
}
