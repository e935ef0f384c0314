package torque

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var layoutCount = rules.Rule{
	Name:     "torque/layout-count",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		if len(j.Named("part/unknown")) > 0 && slices.ContainsFunc(j.Named("torque/layout-count"), nameless) {
			return nil // the part that it draws may be the one that is not known
		}
		found := j.Word("torque/layout-count", func(f source.Fault, x *diag.Finding) {
			drawn, declared := rules.CountAt(f, 0), rules.CountAt(f, 1)
			x.Message = fmt.Sprintf("%s drawn, and the list has %d", procedure.CountName(drawn, rules.WordAt(f, 1))+rules.Is(drawn, " is", " are"), declared)
			x.Do = fmt.Sprintf("draw %d, or mend the Qty", declared)
			if rules.WordAt(f, 1) == "" {
				x.Message = rules.Quote(f.Words[0]) + " is the name of no part, so nobody knows what is drawn"
				x.Do = "write the name of the part that is held behind the word layout"
			}
		})
		found = slices.DeleteFunc(found, func(x diag.Finding) bool { // with a Qty that can't be read there is nothing to count against
			return slices.ContainsFunc(j.Named("part/bad-row"), func(f source.Fault) bool { return f.Thing != "" && f.Thing == x.Thing })
		})
		return rules.Once(found, func(f diag.Finding) string { return fmt.Sprint(f.At.File.Path, f.At.Start) })
	},
}

// nameless tells whether a layout is about no declared part.
func nameless(f source.Fault) bool { return rules.WordAt(f, 1) == "" }
