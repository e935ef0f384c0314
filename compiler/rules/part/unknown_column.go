package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknownColumn = rules.Rule{
	Name:     "part/unknown-column",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/unknown-column", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is not a column of the parts list"
			x.Do = rules.Write(rules.WordAt(f, 1), "take the column out: it is printed nowhere")
			x.Fixes = spellColumn(f)
		})
	},
}
