package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var dualMismatch = rules.Rule{
	Name:     "tag/dual-mismatch",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/dual-mismatch", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " and " + rules.Quote(f.Words[1]) + " are not the same"
			x.Do = "write " + rules.Quote(f.Words[2]) + " in the brackets, or correct the first figure"
			x.Fixes = rules.Offer(f.At, f.Words[1], f.Words[2])
		})
	},
}
