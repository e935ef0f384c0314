package document

import (
	"fmt"
	"math/big"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
)

// amount is what jobs need of one supply together: pieces, or quantities of one kind.
type amount struct {
	pieces int
	values []quantity.Value // one a job and time
	count  bool
}

func (a *amount) add(s *procedure.Supply, times int) {
	if s.Quantity == nil {
		a.count = a.count || s.Count > 0
		a.pieces += s.Count * times
		return
	}
	for range times {
		a.values = append(a.values, *s.Quantity)
	}
}

// draw gives what to draw (in whole packs where the stock list knows the pack), what the jobs need, and the number of packs or pieces.
func (a *amount) draw(pack string) (draw, needs string, count int) {
	switch {
	case len(a.values) > 0:
		total, ok := quantity.Sum(a.values)
		if !ok {
			return "", "", 0
		}
		needs = total.Running()
		size, bad := quantity.Parse(pack)
		if pack == "" || bad != nil || size.Unit == nil || size.Unit.Kind != total.Unit.Kind {
			return needs, needs, 0
		}
		_, need := total.SI()
		_, one := size.SI()
		if one.Sign() <= 0 {
			return needs, needs, 0
		}
		count = ceil(new(big.Rat).Quo(need, one))
		return fmt.Sprintf("%d × %s", count, size.Running()), needs, count
	case a.count:
		needs = fmt.Sprint(a.pieces)
		var size int
		if _, err := fmt.Sscanf(strings.TrimSpace(pack), "%d", &size); err != nil || size < 2 {
			return needs, needs, a.pieces
		}
		count = (a.pieces + size - 1) / size
		return fmt.Sprintf("%d × %d", count, size), needs, count
	}
	return "", "", 0
}

// ceil rounds up to a whole number.
func ceil(r *big.Rat) int {
	n := new(big.Int).Add(r.Num(), new(big.Int).Sub(r.Denom(), big.NewInt(1)))
	return int(n.Div(n, r.Denom()).Int64())
}
