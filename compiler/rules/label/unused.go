package label

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unused = rules.Rule{
	Name:     "label/unused",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		if len(j.Named("label/unknown")) > 0 {
			return nil // a step may point to it by a wrong name
		}
		return read(j, "number", j.Word("label/unused", func(f source.Fault, x *diag.Finding) {
			x.Message = "nothing points to the label " + rules.Quote(f.Words[0])
			x.Do = "take it out, or print it with {number " + f.Words[0] + "}"
		}))
	},
}
