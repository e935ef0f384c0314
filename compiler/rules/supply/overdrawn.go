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
				need, has, over = exactly(x.Amount, s.Quantity.Unit), s.Quantity.Running(), true
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

// exactly prints an amount with as few figures as say it, four at most.
func exactly(amount *big.Rat, u *quantity.Unit) string {
	for n := 1; n < 4; n++ {
		v := quantity.Of(amount, u, n)
		if low, _ := v.SI(); low != nil && low.Cmp(amount) == 0 {
			return v.Running()
		}
	}
	return quantity.Of(amount, u, 4).Running()
}

func listed(s *procedure.Supply) *big.Rat {
	_, high := s.Quantity.SI()
	if high == nil {
		return new(big.Rat)
	}
	return high
}
