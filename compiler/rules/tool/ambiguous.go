package tool

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var ambiguous = rules.Rule{
	Name:     "tool/ambiguous",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tool/ambiguous", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " may be any of " + rules.List(rules.Quoted(f.Words[1:]), "or")
			x.Do = "write the details that tell them apart: {tool " + f.Words[1] + "}"
			x.Fixes = rules.Offer(f.At, f.Words[0], f.Words[1:]...)
		})
	},
}
