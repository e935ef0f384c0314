package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknownUse = rules.Rule{
	Name:     "part/unknown-use",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/unknown-use", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " does not say what becomes of the part"
			x.Do = rules.Write(rules.WordAt(f, 1), "use one of reuse, replace, add, omit, if worn")
			x.Fixes = rules.SpellAs(f.At, f.Words[0], rules.WordAt(f, 1), []string{"reuse", "replace", "add", "omit", "if worn"})
		})
	},
}
