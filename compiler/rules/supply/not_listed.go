package supply

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notListed = rules.Rule{
	Name:     "supply/not-listed",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return rules.Once(j.Word("supply/not-listed", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is not in the supplies"
			x.Do = rules.Write(rules.WordAt(f, 1), "add it with its quantity")
			if near := rules.WordAt(f, 1); near != "" {
				x.Fixes = j.SpellName(f.At, f.Words[0], near, j.SupplyNames())
			}
		}), rules.Said)
	},
}
