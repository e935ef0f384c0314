package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var decimalComma = rules.Rule{
	Name:     "tag/decimal-comma",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/decimal-comma", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " has a decimal comma"
			x.Do = "write " + rules.Quote(f.Words[1])
			x.Fixes = point(f)
		})
	},
}
