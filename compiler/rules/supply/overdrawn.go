package supply

import (
	"fmt"
	"math/big"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// overdrawn tells whether the steps of any variant spend more of a supply than is listed, and how much.
func overdrawn(j *rules.Job, s *procedure.Supply) (need, has string, at []source.Related, over bool) {
	if !s.QtyAt.Known() || j.Muted(s.Name.Value) {
		return "", "", nil, false
	}
	for _, p := range j.Plays {
		for _, x := range p.Spent {
			if x.Supply != s {
				continue
			}
			switch {
			case s.Quantity == nil && x.Pieces > s.Count && s.Count > 0:
				need, has, over = fmt.Sprint(x.Pieces), fmt.Sprint(s.Count), true
			case s.Quantity != nil && x.Amount != nil && x.Amount.Cmp(listed(s)) > 0:
				need, has, over = quantity.Of(x.Amount, s.Quantity.Unit, 3).Running(), s.Quantity.Running(), true
			}
			if over {
				for _, a := range x.Acts {
					at = append(at, source.Related{At: a.At, Words: "used", Step: a.Step.Num()})
				}
				return need, has, at, true
			}
		}
	}
	return "", "", nil, false
}

func listed(s *procedure.Supply) *big.Rat {
	_, high := s.Quantity.SI()
	if high == nil {
		return new(big.Rat)
	}
	return high
}
