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
		all := j.Word("torque/layout-count", func(f source.Fault, x *diag.Finding) {
			if rules.WordAt(f, 2) == "number" {
				misnumbered(f, x)
				return
			}
			drawn, declared := rules.CountAt(f, 0), rules.CountAt(f, 1)
			x.Message = fmt.Sprintf("%s drawn, and the list has %d", procedure.CountName(drawn, rules.WordAt(f, 1))+rules.Is(drawn, " is", " are"), declared)
			x.Do = fmt.Sprintf("draw %d, or correct the Qty", declared)
			if rules.WordAt(f, 1) == "" {
				x.Message = rules.Quote(f.Words[0]) + " is the name of no part, so nobody knows what is drawn"
				x.Do = "write the name of the part that is held after the word layout"
			}
		})
		if len(j.Named("part/unknown")) > 0 { // the part that it draws may be the one that is not known
			all = slices.DeleteFunc(all, func(f diag.Finding) bool { return !fastener(j, f.Thing) })
		}
		all = slices.DeleteFunc(all, func(x diag.Finding) bool { // with a Qty that can't be read there is nothing to count against
			return slices.ContainsFunc(j.Named("part/bad-row"), func(f source.Fault) bool { return f.Thing != "" && f.Thing == x.Thing })
		})
		return rules.Once(all, func(f diag.Finding) string { return fmt.Sprint(f.At.File.Path, f.At.Start) })
	},
}

// misnumbered words a number that stands twice in a drawing, or that is more than there are places.
func misnumbered(f source.Fault, x *diag.Finding) {
	number, missing, places := rules.CountAt(f, 0), rules.CountAt(f, 1), rules.CountAt(f, 2)
	x.Message = fmt.Sprintf("%d is the number of two places, and no place has %d", number, missing)
	if len(f.Related) == 0 {
		x.Message = fmt.Sprintf("%d is more than the %d places of the drawing, and no place has %d", number, places, missing)
	}
	x.Do = fmt.Sprintf("number the places from 1 to %d, each once", places)
}

// fastener tells whether a name is that of a declared fastener.
func fastener(j *rules.Job, name string) bool {
	return slices.ContainsFunc(j.Proc.Parts, func(p *procedure.Part) bool { return p.Name.Value == name && p.Fastener() })
}
