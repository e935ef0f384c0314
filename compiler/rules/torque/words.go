package torque

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

// handled is how many an act handles; of "the others" as many as were left when it came to them, in the play with most.
func handled(j *rules.Job, a *procedure.Act, o *procedure.Object) int {
	switch o.Count {
	case procedure.Numbered:
		return o.N
	case procedure.Remaining:
		most := 0
		for _, play := range j.Plays {
			for _, m := range play.Moves {
				if m.Act == a && m.Part == o.Part {
					most = max(most, m.N)
				}
			}
		}
		return most
	}
	return o.Part.Qty
}

// held is how many parts a fastener holds: four bolts on each of two caps are no group of eight.
func held(p *procedure.Part) int {
	n := 0
	for _, r := range p.Places {
		if (r.Kind == procedure.Holds || r.Kind == procedure.Clamps) && r.Part != nil {
			n = max(n, r.Part.Qty)
		}
	}
	return max(n, 1)
}

// laidOut tells whether a layout draws the part.
func laidOut(j *rules.Job, p *procedure.Part) bool {
	for _, l := range j.Proc.Layouts {
		for _, q := range l.Parts {
			if q == p {
				return true
			}
		}
		for _, place := range l.Places {
			if place.Part == p {
				return true
			}
		}
	}
	return false
}
