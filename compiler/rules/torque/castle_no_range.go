package torque

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var castleNoRange = rules.Rule{
	Name:     "torque/castle-no-range",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, p := range j.Proc.Parts {
			value, at, step := p.Torque.Value, p.Torque.At, 0
			if a := lastTorque(j, p); value == nil && a != nil && a.Torque.Value != nil {
				value, at, step = a.Torque.Value, a.Torque.At, a.Step.Num()
			}
			if value == nil || value.Low.Rat == nil || value.High.Rat == nil || value.Low.Rat.Cmp(value.High.Rat) != 0 || !slotted(j, p) || j.Muted(p.Name.Value) || settled(j, p) {
				continue
			}
			all = append(all, diag.Finding{
				At: at, Step: step, Thing: p.Name.Value,
				Message: fmt.Sprintf("%s takes a split pin, and %s is one value that no slot may meet", rules.Quote(p.Name.Value), value.Running()),
				Do:      "give a range: from the low end on, turn to the next slot, and change the washer if that is past the high end",
			})
		}
		return all
	},
}

// slotted tells whether a part is a castle nut, or a nut that a split pin locks.
func slotted(j *rules.Job, p *procedure.Part) bool {
	if p.Hardware.Nut == "castle" {
		return true
	}
	return nut(p) && slices.ContainsFunc(j.Proc.Parts, func(q *procedure.Part) bool {
		return strings.Contains(procedure.Fold(q.Name.Value), "split pin") &&
			slices.ContainsFunc(q.Places, func(r procedure.Relation) bool { return r.Kind == procedure.Locks && r.Part == p })
	})
}

// settled tells whether the nut is backed off after its torque, as with wheel bearings, or turned on by an angle: the slot is met
// then by another way.
func settled(j *rules.Job, p *procedure.Part) bool {
	after, met := false, p.Torque.Angle != nil
	j.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			if !slices.ContainsFunc(a.Objects, func(o procedure.Object) bool { return o.Part == p }) {
				continue
			}
			met = met || a.Torque.Angle != nil || after && a.Verb.Effect == verb.Loosen
			after = after || a.Verb.Effect == verb.DoTorque
		}
	})
	return met
}
