package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var markUnused = rules.Rule{
	Name:     "refit/mark-unused",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/mark-unused", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is marked, and nothing is aligned by it"
			x.Do = "add {align the " + f.Words[0] + "} where it goes together, or take the mark out"
		})
	},
}
