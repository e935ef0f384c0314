package supply

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var noQuantity = rules.Rule{
	Name:     "supply/no-quantity",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("supply/no-quantity", func(f source.Fault, x *diag.Finding) {
			x.Message = "how much " + rules.Quote(f.Words[0]) + "?"
			x.Do = "write how much the job needs after a comma, such as " + rules.Quote(f.Words[0]+", 1 L") + " or " + rules.Quote(f.Words[0]+", 4")
		})
	},
}
