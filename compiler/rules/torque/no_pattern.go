package torque

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var noPattern = rules.Rule{
	Name:     "torque/no-pattern",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		j.EachAct(func(a *procedure.Act) {
			if a.Verb.Effect != verb.DoTorque || a.Broken || a.Order != "" {
				return
			}
			if a.Torque.Value == nil && a.Torque.Angle != nil {
				return // an angle alone: the order stands where the torque was given
			}
			for i := range a.Objects {
				o := &a.Objects[i]
				if p := o.Part; p != nil && handled(o) >= 4*held(p) && handled(o) >= 4 && len(p.Places) > 0 && !laidOut(j, p) {
					all = append(all, diag.Finding{
						At: o.At, Step: a.Step.Num(), Thing: p.Name.Value,
						Message: fmt.Sprintf("%s are torqued, and no order is given", procedure.CountName(handled(o), p.Name.Value)),
						Do:      "add crosswise, from the centre or in order; or draw a layout",
					})
				}
			}
		})
		return all
	},
}
