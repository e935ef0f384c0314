package figure

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var missing = rules.Rule{
	Name:     "figure/missing",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("figure/missing", func(f source.Fault, x *diag.Finding) {
			x.Message = "there is no picture " + rules.Quote(f.Words[0])
			x.Do = rules.Write(rules.WordAt(f, 1), "write its path as seen from the folder of this file")
			x.Fixes = rules.Offer(f.At, f.Words[0], rules.WordAt(f, 1))
		})
	},
}
