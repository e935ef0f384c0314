package torque

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/reference"
	"refitcard/compiler/rules"
)

var wrongUnitLikely = rules.Rule{
	Name:     "torque/wrong-unit-likely",
	Severity: diag.Warning,
	Waivable: true,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, x := range joints.Of(j) {
			meant, doubt := x.doubtful()
			if _, over := x.overProof(); over || !doubt || j.Muted(x.part.Name.Value) {
				continue
			}
			k, torque := reference.Limit("usual nut factor"), x.set
			all = append(all, diag.Finding{
				At: x.at, Step: x.step, Thing: x.part.Name.Value,
				Message: fmt.Sprintf("%s on %s, %s, gives about %s, %s of what it bears; %s",
					x.value.Running(), rules.Quote(x.part.Name.Value), x.thread(),
					hardware.Force(hardware.Preload(torque, k, x.diameter())).Running(), percent(x.share(torque)), meant),
				Why: fmt.Sprintf("%s with the usual friction; %s: the number fits another unit better", x.sum(torque, k), x.bearing()),
				Do:  "look it up, and correct the unit or the number; if it is right, write the second unit in brackets after it",
			})
		}
		return all
	},
}
