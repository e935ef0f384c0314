package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var missingQuantity = rules.Rule{
	Name:     "tag/missing-quantity",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/missing-quantity", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + missing(f)
			x.Do = "write the value in the braces" + table(f)
		})
	},
}
