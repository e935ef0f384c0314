package include

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var missing = rules.Rule{
	Name:     "include/missing",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("include/missing", func(f source.Fault, x *diag.Finding) {
			x.Message = "there is no file " + rules.Quote(f.Words[0]) + " to include"
			x.Do = rules.Write(rules.WordAt(f, 1), "write its path as seen from the folder of this file")
			x.Fixes = rules.Offer(f.At, f.Words[0], rules.WordAt(f, 1))
		})
	},
}
