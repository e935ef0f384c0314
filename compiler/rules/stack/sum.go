package stack

import (
	"math"
	"math/big"
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
)

// piece is one thickness of a pile, in metres, and how often it is there. Spread is half the width of its tolerance.
type piece struct {
	nominal, spread *big.Rat
	count           int
}

// sum is a pile added up, in metres. Worst case is the sum of the spreads; root is the root of the sum of their squares,
// which about 0.27 % of piles go beyond when the parts are independent and spread normally (Scholz, Tolerance Stack Analysis
// Methods, Boeing ISSTECH 1995, for the methods).
type sum struct {
	nominal, worst *big.Rat
	root           float64
}

func add(pieces []piece) sum {
	s := sum{nominal: new(big.Rat), worst: new(big.Rat)}
	squares, n, x := new(big.Rat), new(big.Rat), new(big.Rat)
	for _, p := range pieces {
		n.SetInt64(int64(p.count))
		s.nominal.Add(s.nominal, x.Mul(n, p.nominal))
		s.worst.Add(s.worst, x.Mul(n, x.Abs(p.spread)))
		squares.Add(squares, x.Mul(n, x.Mul(p.spread, p.spread)))
	}
	f, _ := squares.Float64()
	s.root = math.Sqrt(f)
	return s
}

// thickness gives the limits of one piece of a part in metres; ok is false where its Spec gives none with two sides.
func thickness(p *procedure.Part) (low, high *big.Rat, ok bool) {
	if !thick(p) {
		return nil, nil, false
	}
	low, high = p.Hardware.Thickness.SI()
	return low, high, true
}

// thick tells whether the Spec of a part gives a thickness with two sides.
func thick(p *procedure.Part) bool {
	v := p.Hardware.Thickness
	return v != nil && v.Low.Rat != nil && v.High.Rat != nil
}

// pile is one stack as one variant has it.
type pile struct {
	stack   *procedure.Stack
	variant string
	layers  []layer
	sized   bool // every layer has a thickness
	fitted  bool // some layer is fitted as needed: its count is found at the bench
}

// layer is the limits of a thickness in metres, and how often it is there.
type layer struct {
	low, high *big.Rat
	count     int
}

// sum adds the pile up.
func (p pile) sum() sum {
	pieces := make([]piece, 0, len(p.layers))
	half := big.NewRat(1, 2)
	for _, l := range p.layers {
		width := new(big.Rat).Sub(l.high, l.low)
		middle := new(big.Rat).Add(l.low, l.high)
		pieces = append(pieces, piece{middle.Mul(middle, half), width.Mul(width, half), l.count})
	}
	return add(pieces)
}

// fits tells whether the pile meets its target for certain, with all parts at one end of their tolerances or at the other.
func (p pile) fits() bool {
	var least, most float64
	for _, l := range p.layers {
		a, b := quantity.Float(l.low), quantity.Float(l.high)
		least, most = least+float64(l.count)*min(a, b), most+float64(l.count)*max(a, b)
	}
	low, high := p.target()
	near := 1e-9 * (max(least, -least) + max(most, -most)) // where it is a near thing exact figures have to tell
	return (low == nil || least > quantity.Float(low)+near) && (high == nil || most < quantity.Float(high)-near)
}

// piles are the stacks that were read whole, once a variant.
var piles = rules.NewFact(func(j *rules.Job) []pile {
	var all []pile
	for _, s := range j.Proc.Stacks {
		if !whole(j, s) {
			continue
		}
		for _, play := range j.Plays {
			if stacked(s, play.Variant) {
				all = append(all, piled(s, play.Variant))
			}
		}
	}
	return all
})

// whole tells whether all layers were understood: a pile with one missing says nothing.
func whole(j *rules.Job, s *procedure.Stack) bool {
	for _, f := range j.Faults {
		if s.At.Holds(f.At) {
			return false
		}
	}
	return len(s.Layers) > 0
}

// stacked tells whether a variant has all parts of a stack: else it has another pile.
func stacked(s *procedure.Stack, variant string) bool {
	return !slices.ContainsFunc(s.Layers, func(l procedure.Layer) bool { return l.Part.For(variant) == nil })
}

func piled(s *procedure.Stack, variant string) pile {
	p := pile{stack: s, variant: variant, sized: true}
	for _, l := range s.Layers {
		part := l.Part.For(variant)
		p.fitted = p.fitted || part.UpTo
		low, high, ok := thickness(part)
		p.sized = p.sized && ok
		if ok {
			p.layers = append(p.layers, layer{low, high, max(l.Count, 0)})
		}
	}
	return p
}

// target gives the sides of the target in metres; nil for a side that is open, or for no target.
func (p pile) target() (low, high *big.Rat) {
	if p.stack.Target == nil {
		return nil, nil
	}
	return p.stack.Target.SI()
}

// outside tells whether a height is beyond the target.
func outside(height, low, high *big.Rat) bool {
	return low != nil && quantity.Compare(height, low) < 0 || high != nil && quantity.Compare(height, high) > 0
}

// text writes metres in the unit of the target, with enough figures to tell them from it.
func (p pile) text(metres *big.Rat) string {
	u := p.stack.Target.Unit
	factor, _ := u.Factor()
	number := new(big.Rat).Quo(metres, factor)
	return trimmed(number.FloatString(p.decimals())) + " " + u.Name
}

func (p pile) decimals() int {
	n := 2
	for _, l := range p.stack.Layers {
		part := l.Part.For(p.variant)
		if v := part.Hardware.Thickness; v != nil {
			n = max(n, v.Low.Decimals, v.Spread.Decimals)
		}
	}
	return min(n+1, 6)
}

// trimmed takes noughts off the end behind a point.
func trimmed(s string) string {
	for len(s) > 1 && s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}

// rat turns the root back into an exact number of metres, for printing.
func rat(f float64) *big.Rat {
	r := new(big.Rat)
	r.SetFloat64(f)
	return r
}

// length tells whether the target is one: anything else is a slip with a finding of its own, or none of ours.
func length(v *quantity.Value) bool {
	return v != nil && v.Unit != nil && v.Unit.Kind == quantity.Length
}
