package variant

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknown = rules.Rule{
	Name:     "variant/unknown",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("variant/unknown", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is not a variant of this procedure"
			offer := "name it under variants in the front matter"
			if len(f.Words) > 2 {
				offer = "use one of " + rules.List(rules.Quoted(f.Words[2:]), "or")
			}
			x.Do = rules.Write(rules.WordAt(f, 1), offer)
			if len(f.Words) > 2 {
				x.Fixes = rules.SpellAs(f.At, f.Words[0], f.Words[1], f.Words[2:])
			}
		})
	},
}
