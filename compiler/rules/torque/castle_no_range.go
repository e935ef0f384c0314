package torque

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var castleNoRange = rules.Rule{
	Name:     "torque/castle-no-range",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		tags, pinned := torqueTags.Of(j), pinnedNuts(j)
		for _, p := range j.Proc.Parts {
			if p.Hardware.Nut != "castle" && !pinned[p] {
				continue
			}
			value, at, step := p.Torque.Value, p.Torque.At, 0
			if acts := tags.of(p); value == nil && len(acts) > 0 {
				last := acts[len(acts)-1]
				value, at, step = last.Torque.Value, last.Torque.At, last.Step.Num()
			}
			if !single(value) || p.Torque.Angle != nil || settled(j, p) || j.Muted(p.Name.Value) {
				continue
			}
			all = append(all, diag.Finding{
				At: at, Step: step, Thing: p.Name.Value,
				Message: fmt.Sprintf("%s takes a split pin, and %s is a single value, at which the slot may not meet the hole", rules.Quote(p.Name.Value), value.Running()),
				Do:      "give a range: begin at its low end, turn on to the next slot, and change the washer if that is past the high end",
			})
		}
		return all
	},
}

// single tells whether a torque is one value, with neither a range nor a tolerance.
func single(v *quantity.Value) bool {
	return v != nil && v.Low.Rat != nil && v.High.Rat != nil && v.Low.Rat.Cmp(v.High.Rat) == 0
}

// pinnedNuts collects the nuts that a split pin locks.
func pinnedNuts(j *rules.Job) map[*procedure.Part]bool {
	all := map[*procedure.Part]bool{}
	for _, q := range j.Proc.Parts {
		if !strings.Contains(procedure.Fold(q.Name.Value), "split pin") {
			continue
		}
		for _, r := range q.Places {
			if r.Kind == procedure.Locks && r.Part != nil && nut(r.Part) {
				all[r.Part] = true
			}
		}
	}
	return all
}

// settled tells whether a fastener is backed off after its torque, as with wheel bearings, or turned on by an angle: the slot is
// met then by another way.
func settled(j *rules.Job, p *procedure.Part) bool {
	torqued := false
	for _, a := range j.StepActs() {
		for i := range a.Objects {
			if a.Objects[i].Part != p {
				continue
			}
			if a.Torque.Angle != nil || torqued && a.Verb.Effect == verb.Loosen {
				return true
			}
			torqued = torqued || a.Verb.Effect == verb.DoTorque
		}
	}
	return false
}
