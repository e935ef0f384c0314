package part

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var tooMany = rules.Rule{
	Name:     "part/too-many",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		all := j.Word("part/too-many", func(f source.Fault, x *diag.Finding) {
			asked, there, qty := rules.CountAt(f, 0), rules.CountAt(f, 1), rules.CountAt(f, 2)
			switch {
			case rules.WordAt(f, 1) == "of":
				x.Message = fmt.Sprintf("this says %d %s in all, and the list has %d", asked, procedure.Plural(f.Words[0]), qty)
				x.Do = fmt.Sprintf("write %d here, or correct the Qty", qty)
			case there == qty:
				x.Message = fmt.Sprintf("this says %s, and the list has %d", procedure.CountName(asked, f.Words[0]), qty)
				x.Do = fmt.Sprintf("write %d here, or correct the Qty", qty)
			default:
				x.Message = fmt.Sprintf("this says %s, and only %d %s left for it at this point", procedure.CountName(asked, f.Words[0]), there, rules.Is(there, "is", "are"))
				x.Do = fmt.Sprintf("write %d here, or correct the count in an earlier step", there)
			}
		})
		all = slices.DeleteFunc(all, func(f diag.Finding) bool { return drawn(j, f) || elsewhere(j, f) })
		return rules.Once(all, rules.Said)
	},
}

// drawn tells whether a layout already says that the table has another number of the part.
func drawn(j *rules.Job, f diag.Finding) bool {
	return slices.ContainsFunc(j.Named("torque/layout-count"), func(l source.Fault) bool { return f.Thing != "" && l.Thing == f.Thing })
}

// elsewhere tells whether the step may be meant for another variant, which a tag that could not be read, or a row that is not
// there, keeps it from.
func elsewhere(j *rules.Job, f diag.Finding) bool {
	if len(j.Proc.Variants) == 0 {
		return false
	}
	return j.ConditionLost() || slices.ContainsFunc(j.Named("part/unknown"), func(u source.Fault) bool {
		return rules.WordAt(u, 3) == "variant" && procedure.Fold(u.Thing) == procedure.Fold(f.Thing)
	})
}
