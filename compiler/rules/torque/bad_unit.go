package torque

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var badUnit = rules.Rule{
	Name:     "torque/bad-unit",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("torque/bad-unit", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is not a torque"
			x.Do = "write " + rules.Quote(rules.WordAt(f, 1)) + " or " + rules.Quote(rules.WordAt(f, 2)) + ", whichever is meant"
			x.Fixes = units(f)
		})
	},
}
