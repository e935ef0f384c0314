package torque

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var passes = rules.Rule{
	Name:     "torque/passes",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("torque/passes", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " does not rise from pass to pass"
			x.Do = "write them from the lowest to the full torque"
			if f.Words[1] == "last" {
				x.Message = "the last pass of " + rules.Quote(f.Words[0]) + " is not the full torque"
				x.Do = "end with " + f.Words[2]
			}
		})
	},
}
