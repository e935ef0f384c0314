package torque

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var layoutCount = rules.Rule{
	Name:     "torque/layout-count",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("torque/layout-count", func(f source.Fault, x *diag.Finding) {
			drawn, declared := rules.CountAt(f, 0), rules.CountAt(f, 1)
			x.Message = fmt.Sprintf("the drawing has %d places, and the list has %s", drawn, procedure.CountName(declared, rules.WordAt(f, 1)))
			x.Do = fmt.Sprintf("draw %d places, or mend the Qty", declared)
			if rules.WordAt(f, 1) == "" {
				x.Message = rules.Quote(f.Words[0]) + " is the name of no part, so nobody knows what is drawn"
				x.Do = "write the name of the part that is held behind the word layout"
			}
		})
	},
}
