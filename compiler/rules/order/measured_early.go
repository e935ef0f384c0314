package order

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var measuredEarly = rules.Rule{
	Name:     "order/measured-early",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/measured-early", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("%s %s measured while %s %s slack", j.The(f.Words[0]), j.By(f.Words[0], "is", "are"), j.The(f.Words[1]), j.By(f.Words[1], "is", "are"))
			x.Do = "tighten " + j.The(f.Words[1]) + " first, then measure"
		})
	},
}
