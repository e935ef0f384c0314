package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var reversedRange = rules.Rule{
	Name:     "tag/reversed-range",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/reversed-range", func(f source.Fault, x *diag.Finding) {
			x.Message = "the range " + rules.Quote(f.Words[0]) + " begins with its larger end"
			x.Do = "write " + rules.Quote(f.Words[1])
			x.Fixes = rules.Offer(f.At, f.Words[0], f.Words[1]) // which of the figures is wrong, nobody can tell from here
		})
	},
}
