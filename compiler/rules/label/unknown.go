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
		return read(j, "label", j.Word("label/unknown", func(f source.Fault, x *diag.Finding) {
			x.Message = "no step has the label " + rules.Quote(f.Words[0])
			near := rules.WordAt(f, 1)
			if idle := j.Named("label/unused"); near == "" && len(idle) == 1 {
				near = idle[0].Words[0] // the one that nothing points to
			}
			x.Do = rules.Write(near, "put {label "+f.Words[0]+"} into the step that is meant")
			x.Fixes = rules.SpellAs(f.At, f.Words[0], rules.WordAt(f, 1), labels(j))
		}))
	},
}
