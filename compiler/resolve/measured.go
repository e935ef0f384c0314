package resolve

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
)

// measured holds what a tag takes of a supply against the way the list measures it: "20" of a grease in millilitres is no
// quantity, and "20 mL" can't be taken from a list in pieces. Mass and volume are left alone: only a density could join them.
func (r *resolver) measured(a *procedure.Act, s *procedure.Supply, at source.Span) {
	if s == nil || a.Broken || !at.Known() {
		return
	}
	say := func(wanted, reason string) {
		r.fault("tag/bad-quantity", at, at.Text(), wanted, reason).Thing = s.Name.Value
		own := r.values(a)
		own.Amount, own.Pieces = nil, 0
	}
	name := "\"" + s.Name.Value + "\""
	switch {
	case a.Amount != nil && s.Quantity == nil && s.Count > 0:
		say("a count here, or a quantity with a unit in the list", "is a quantity, and the list counts "+name+" in pieces")
	case a.Amount == nil && a.Pieces > 1 && s.Quantity != nil:
		say("the unit after it, such as "+at.Text()+" "+s.Quantity.Unit.Name, "has no unit, and the list measures "+name+" in "+s.Quantity.Unit.Name)
	case a.Amount != nil && s.Quantity != nil && a.Amount.Unit.Kind != s.Quantity.Unit.Kind && !joined(a.Amount.Unit.Kind, s.Quantity.Unit.Kind):
		say("it in "+s.Quantity.Unit.Name+", or correct the list", "can't be taken from "+name+", which the list measures in "+s.Quantity.Unit.Name)
	}
}

// joined tells whether a density would turn one kind into the other.
func joined(a, b quantity.Kind) bool {
	return a == quantity.Volume && b == quantity.Mass || a == quantity.Mass && b == quantity.Volume
}
