package label

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknown = rules.Rule{
	Name:     "label/unknown",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("label/unknown", func(f source.Fault, x *diag.Finding) {
			x.Message = "no step has the label " + rules.Quote(f.Words[0])
			x.Do = rules.Write(rules.WordAt(f, 1), "put {label "+f.Words[0]+"} into the step that is meant")
			x.Fixes = rules.SpellAs(f.At, f.Words[0], rules.WordAt(f, 1), labels(j))
		})
	},
}
