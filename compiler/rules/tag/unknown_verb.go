package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknownVerb = rules.Rule{
	Name:     "tag/unknown-verb",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/unknown-verb", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is not a verb that the program knows"
			x.Do = rules.Write(rules.WordAt(f, 1), `use another verb, or write \{ for a plain brace`)
			if near := rules.WordAt(f, 1); near != "" {
				x.Fixes = spellVerb(j, f, near)
			}
		})
	},
}
