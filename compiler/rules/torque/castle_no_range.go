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
		tags, pinned, settled := torqueTags.Of(j), pinnedNuts(j), settledNuts(j)
		for _, p := range j.Proc.Parts {
			value, at, step := p.Torque.Value, p.Torque.At, 0
			if acts := tags[p]; value == nil && len(acts) > 0 {
				last := acts[len(acts)-1]
				value, at, step = last.Torque.Value, last.Torque.At, last.Step.Num()
			}
			if !single(value) || p.Hardware.Nut != "castle" && !pinned[p] || p.Torque.Angle != nil || settled[p] || j.Muted(p.Name.Value) {
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

// settledNuts collects the fasteners that are backed off after their torque, as with wheel bearings, or turned on by an angle: the
// slot is met then by another way.
func settledNuts(j *rules.Job) map[*procedure.Part]bool {
	torqued, met := map[*procedure.Part]bool{}, map[*procedure.Part]bool{}
	j.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			for _, o := range a.Objects {
				if o.Part == nil {
					continue
				}
				if a.Torque.Angle != nil || torqued[o.Part] && a.Verb.Effect == verb.Loosen {
					met[o.Part] = true
				}
				torqued[o.Part] = torqued[o.Part] || a.Verb.Effect == verb.DoTorque
			}
		}
	})
	return met
}
