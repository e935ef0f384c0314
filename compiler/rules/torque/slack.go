package torque

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/reference"
	"refitcard/compiler/rules"
)

var slack = rules.Rule{
	Name:     "torque/slack",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, x := range joints.Of(j) {
			most := hardware.Preload(x.most, x.friction.Low, x.diameter())
			if _, doubt := x.doubtful(); doubt || x.angle || x.part.Hardware.Joint != "" || x.part.Hardware.Nut == "jam" || x.spare(most) || j.Muted(x.part.Name.Value) {
				continue
			}
			all = append(all, diag.Finding{
				At: x.at, Step: x.step, Thing: x.part.Name.Value,
				Message: fmt.Sprintf("%s on %s, %s, loads the thread to %s at most, %s of what it bears",
					x.value.Running(), rules.Quote(x.part.Name.Value), x.thread(), hardware.Force(most).Running(), percent(most/x.proof.Load)),
				Why: fmt.Sprintf("%s, with %s the most slippery nut factor published %s; %s: so little holds nothing against shaking",
					x.sum(x.most, x.friction.Low), number(x.friction.Low), condition(x.friction), x.bearing()),
				Do: "look it up; where a soft joint needs so little, say so in the Spec: in aluminium, in plastic",
			})
		}
		return all
	},
}

// spare tells whether a preload in N is enough to hold.
func (x joint) spare(preload float64) bool {
	return preload >= x.proof.Load*reference.Limit("slack below")
}
