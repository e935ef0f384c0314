package energy

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var leftIsolated = rules.Rule{
	Name:     "energy/left-isolated",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("energy/left-isolated", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is isolated and never unlocked"
			x.Do = "add {unlock the " + f.Words[0] + "} at the end, or list \"lock off " + f.Words[0] + "\" under \"leaves\""
		})
	},
}
