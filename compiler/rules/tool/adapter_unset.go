package tool

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/rules"
)

var adapterUnset = rules.Rule{
	Name:     "tool/adapter-unset",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, t := range torques.Of(j) {
			if t.foot == nil || t.foot.Length != nil && t.choice.Kind.Length != nil || rightAngle(t.foot) {
				continue
			}
			what := "of the " + t.choice.Name
			if t.foot.Length == nil {
				what = "of the crowfoot"
			}
			all = append(all, diag.Finding{
				At: t.act.At, Step: t.act.Step.Num(),
				Message: fmt.Sprintf("a crowfoot makes the wrench longer, and the length %s is not given: nobody can work out what to set", what),
				Do:      "write both lengths after the tools: 24 mm crowfoot, 45 mm; torque wrench, 5–50 N·m, 450 mm; or use it at 90°",
			})
		}
		return all
	},
}

// rightAngle tells whether an adapter stands at a right angle to the wrench, where it changes nothing.
func rightAngle(t *hardware.Tool) bool { return t.Angle != nil && t.Angle.Float() == 90 }
