package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var badQuantity = rules.Rule{
	Name:     "tag/bad-quantity",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/bad-quantity", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " can't be read as a quantity"
			x.Do = "write " + rules.WordAt(f, 1)
		})
	},
}
