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
		return rules.Once(j.Word("torque/layout-count", func(f source.Fault, x *diag.Finding) {
			drawn, declared := rules.CountAt(f, 0), rules.CountAt(f, 1)
			x.Message = fmt.Sprintf("%s drawn, and the list has %d", procedure.CountName(drawn, rules.WordAt(f, 1))+rules.Is(drawn, " is", " are"), declared)
			x.Do = fmt.Sprintf("draw %d, or mend the Qty", declared)
			if rules.WordAt(f, 1) == "" {
				x.Message = rules.Quote(f.Words[0]) + " is the name of no part, so nobody knows what is drawn"
				x.Do = "write the name of the part that is held behind the word layout"
			}
		}), func(f diag.Finding) string { return fmt.Sprint(f.At.File.Path, f.At.Start) })
	},
}
