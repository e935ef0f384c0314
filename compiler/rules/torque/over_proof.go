package torque

import (
	"fmt"
	"math/big"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/quantity"
	"refitcard/compiler/reference"
	"refitcard/compiler/rules"
)

var overProof = rules.Rule{
	Name:     "torque/over-proof",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, x := range joints.Of(j) {
			least, over := x.overProof()
			if !over || j.Muted(x.part.Name.Value) {
				continue
			}
			f := diag.Finding{
				At: x.at, Step: x.step, Thing: x.part.Name.Value,
				Message: fmt.Sprintf("%s on %s, %s, loads the thread to at least %s even at the driest friction; %s",
					x.value.Running(), rules.Quote(x.part.Name.Value), x.thread(), hardware.Force(least).Running(), x.bears()),
				Why: fmt.Sprintf("%s, with %s the driest nut factor published %s; %s: beyond it the bolt stays stretched, and may break",
					x.sum(x.most, x.friction.High), number(x.friction.High), condition(x.friction), x.bearing()),
				Do: "look the torque up; " + x.reaches(),
			}
			if meant := x.otherUnits(); meant != "" && x.value.Second == nil {
				f.Do += "; " + meant + " of it"
			}
			all = append(all, f)
		}
		return all
	},
}

// condition says for which condition a friction is published.
func condition(f hardware.Friction) string {
	if f.Condition == "with no condition stated" {
		return "for threads " + f.Condition
	}
	return "for " + f.Condition + " threads"
}

// reaches says at which torque the proof load is reached with the usual friction, in the unit of the value.
func (x joint) reaches() string {
	k := reference.Limit("usual nut factor")
	v := quantity.Of(new(big.Rat).SetFloat64(hardware.TorqueFor(x.proof.Load, k, x.diameter())), x.value.Unit, 2)
	return fmt.Sprintf("with the usual friction (nut factor %s) that load is reached at %s", number(k), v.Running())
}
