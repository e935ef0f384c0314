package quantity

import (
	"math/big"
)

// Form is how a value is bounded.
type Form int

// The forms: 22 N·m; 20..24 N·m; 22 ±2 N·m; at least 3 bar; at most 3 bar.
const (
	Exact Form = iota
	Range
	Tolerance
	AtLeast
	AtMost
)

// Value is one written quantity. Nominal is the figure of every form but Range; Low and High are its limits in the
// typed unit (equal for Exact; the open side of AtLeast and AtMost has a Number with a nil Rat).
// Second is the quantity in brackets behind it, nil without one.
type Value struct {
	Form               Form
	Nominal, Low, High Number
	Spread             Number // of Tolerance: the figure behind ±
	Unit               *Unit
	Second             *Value
	Text               string // as typed
}

// Exactly makes a value of a number and a unit.
func Exactly(n Number, u *Unit) Value {
	return Value{Form: Exact, Nominal: n, Low: n, High: n, Unit: u, Text: join(n.Typed, u)}
}

// Of makes a value from a rational in the unit of reference, printed in u with the given significant figures.
func Of(si *big.Rat, u *Unit, figures int) Value { return Exactly(rounded(u.from(si), figures), u) }

func join(figure string, u *Unit) string {
	if u == nil || u.Joined {
		name := ""
		if u != nil {
			name = u.Name
		}
		return figure + name
	}
	return figure + " " + u.Name
}

// to turns a figure in the unit into one in the unit of reference; that may be the same Rat.
func (u *Unit) to(r *big.Rat) *big.Rat {
	if u.reference {
		return r
	}
	si := multiplied(r, u.factor)
	if u.offset.Sign() == 0 {
		return si
	}
	return Added(si, u.offset)
}

func (u *Unit) from(si *big.Rat) *big.Rat {
	return new(big.Rat).Quo(new(big.Rat).Sub(si, u.offset), u.factor)
}

// Factor gives factor and offset to the unit of reference of the kind (N·m, m, m³, kg, s, Pa, K, degree, m/s …). They are only
// to be read: they are the unit's own.
func (u *Unit) Factor() (factor, offset *big.Rat) { return u.factor, u.offset }

// SI gives the limits in the unit of reference; an open side is nil. They are only to be read: they may be those of the value.
func (v Value) SI() (low, high *big.Rat) {
	if v.Unit == nil {
		return v.Low.Rat, v.High.Rat
	}
	if v.Low.Rat != nil {
		low = v.Unit.to(v.Low.Rat)
	}
	if v.High.Rat == v.Low.Rat {
		return low, low
	}
	if v.High.Rat != nil {
		high = v.Unit.to(v.High.Rat)
	}
	return low, high
}

// Middle is the figure to set: the nominal, or half-way between the limits of a range, in the unit of reference. It is only to
// be read: it may be that of the value.
func (v Value) Middle() *big.Rat {
	low, high := v.SI()
	switch {
	case low == nil:
		return high
	case high == nil, low == high:
		return low
	case v.Form == Tolerance:
		return v.Unit.to(v.Nominal.Rat)
	}
	return multiplied(Added(low, high), &half)
}

// Float gives the middle as a float, in the unit of reference.
func (v Value) Float() float64 {
	m := v.Middle()
	if m == nil {
		return 0
	}
	return Float(m)
}

// Same tells whether two values mean the same: equal form and limits, in any unit of the kind.
func Same(a, b Value) bool {
	if a.Unit == nil || b.Unit == nil || a.Unit.Kind != b.Unit.Kind {
		return a.Unit == b.Unit && same(a.Low.Rat, b.Low.Rat) && same(a.High.Rat, b.High.Rat)
	}
	al, ah := a.SI()
	bl, bh := b.SI()
	return same(al, bl) && same(ah, bh)
}

func same(a, b *big.Rat) bool {
	if a == nil || b == nil {
		return a == b
	}
	return Compare(a, b) == 0
}

// Cmp compares the middles of two values of one kind: -1, 0, 1.
func Cmp(a, b Value) int { return Compare(a.Middle(), b.Middle()) }

// Agrees tells whether w says the same as v within the rounding of the coarser of the two: half a unit of the last
// place that was typed, on each limit.
func (v Value) Agrees(w Value) bool {
	if v.Unit == nil || w.Unit == nil || v.Unit.Kind != w.Unit.Kind {
		return false
	}
	return near(v.Low, v.Unit, w.Low, w.Unit) && near(v.High, v.Unit, w.High, w.Unit)
}

func near(a Number, au *Unit, b Number, bu *Unit) bool {
	if a.Rat == nil || b.Rat == nil {
		return a.Rat == nil && b.Rat == nil
	}
	gap := Added(au.to(a.Rat), negated(bu.to(b.Rat)))
	allowed := multiplied(multiplied(a.ulp(), au.factor), &half)
	if other := multiplied(multiplied(b.ulp(), bu.factor), &half); Compare(other, allowed) > 0 {
		allowed = other
	}
	if gap.Sign() < 0 {
		gap = negated(gap)
	}
	return Compare(gap, allowed) <= 0
}

// In gives the value in another unit of its kind, each figure with as many significant figures as typed, two at least.
func (v Value) In(u *Unit) Value {
	if v.Unit == nil || u == nil || v.Unit == u || v.Unit.Kind != u.Kind {
		return v
	}
	convert := func(n Number) Number {
		if n.Rat == nil {
			return n
		}
		return rounded(u.from(v.Unit.to(n.Rat)), max(n.figures(), 2))
	}
	w := Value{Form: v.Form, Nominal: convert(v.Nominal), Low: convert(v.Low), High: convert(v.High), Unit: u}
	if v.Form == Tolerance {
		w.Spread = rounded(new(big.Rat).Quo(new(big.Rat).Mul(v.Spread.Rat, v.Unit.factor), u.factor), max(v.Spread.figures(), 2))
	}
	w.Text = w.Running()
	return w
}

// figures is the text of the figures, with word or dash between the ends of a range.
func (v Value) figures(between string) string {
	switch v.Form {
	case Range:
		return v.Low.Typed + between + v.High.Typed
	case Tolerance:
		return v.Nominal.Typed + " ±" + v.Spread.Typed
	}
	return v.Nominal.Typed
}

// Running is how it prints in a sentence: "20 to 24 N·m" (NIST SP 811, 7.7), "22 ±2 N·m", "at least 3 bar".
func (v Value) Running() string {
	text := join(v.figures(" to "), v.Unit)
	switch v.Form {
	case AtLeast:
		text = "at least " + text
	case AtMost:
		text = "at most " + text
	}
	if v.Second != nil {
		text += " (" + v.Second.Running() + ")"
	}
	return text
}

// Boxed is how it prints in a box: "20–24" and "N·m"; "≥ 3" and "bar".
func (v Value) Boxed() (figure, unit string) {
	figure = v.figures("–")
	switch v.Form {
	case AtLeast:
		figure = "≥ " + figure
	case AtMost:
		figure = "≤ " + figure
	}
	if v.Unit != nil {
		unit = v.Unit.Name
	}
	return figure, unit
}

// Counterpart is the unit of the other system that a value is printed in beside its own; nil where there is none.
func Counterpart(u *Unit, v Value) *Unit {
	if u == nil || u.System == Either {
		return nil
	}
	pairs := map[string]string{
		"cN·m": "lbf·in", "kgf·m": "lbf·ft", "kgf·cm": "lbf·in", "lbf·ft": "N·m", "lbf·in": "N·m", "ozf·in": "cN·m",
		"mm": "in", "cm": "in", "m": "ft", "km": "mile", "in": "mm", "thou": "mm", "ft": "m", "yd": "m", "mile": "km", "µm": "thou",
		"mL": "fl oz", "cL": "fl oz", "L": "qt", "fl oz": "mL", "pt": "L", "qt": "L", "gal": "L",
		"g": "oz", "kg": "lb", "t": "lb", "oz": "g", "lb": "kg",
		"kPa": "psi", "MPa": "psi", "bar": "psi", "psi": "bar", "ksi": "MPa", "°C": "°F", "°F": "°C",
		"m/s": "ft/min", "km/h": "mph", "mph": "km/h", "ft/min": "m/min", "N": "lbf", "kN": "lbf", "lbf": "N",
		"L/min": "gpm", "gpm": "L/min", "kW": "hp", "hp": "kW",
	}
	name := pairs[u.Name]
	if u.Name == "N·m" {
		name = "lbf·ft"
		if v.Middle() != nil && Compare(v.Middle(), &wholes[10]) < 0 {
			name = "lbf·in" // a small value in feet would lose its figures
		}
	}
	other, _ := UnitNamed(name)
	return other
}

// Sum adds values of one kind, in the unit of the first, with the decimals that were typed. ok is false when they do not add up.
func Sum(values []Value) (total Value, ok bool) {
	if len(values) == 0 {
		return Value{}, false
	}
	u := values[0].Unit
	sum, decimals := new(big.Rat), 0
	for _, v := range values {
		_, high := v.SI()
		if u == nil || v.Unit == nil || v.Unit.Kind != u.Kind || high == nil {
			return Value{}, false
		}
		sum.Add(sum, high)
		decimals = max(decimals, v.High.Decimals)
	}
	exact := u.from(sum)
	text := exact.FloatString(decimals)
	if rat(text).Cmp(exact) != 0 { // another unit or a fraction among them
		return Exactly(rounded(exact, 4), u), true
	}
	return Exactly(Number{text, exact, decimals}, u), true
}

// Degrees gives an angle in degrees; ok is false for anything but an angle.
func Degrees(v Value) (degrees *big.Rat, ok bool) {
	if v.Unit == nil || v.Unit.Kind != Angle {
		return nil, false
	}
	return v.Middle(), true
}
