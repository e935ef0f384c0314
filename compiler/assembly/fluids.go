package assembly

import (
	"math/big"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/verb"
)

// fluid is one fluid of the machine.
type fluid struct {
	drained bool
	by      handled
}

// removal is a part that seals a fluid and came off while that was still in.
type removal struct {
	part   *procedure.Part
	supply *procedure.Supply
	name   string
	by     handled
}

func (l *ledger) eachFluid(a *procedure.Act, do func(*procedure.Object)) {
	for i := range a.Objects {
		if a.Objects[i].Supply != nil {
			do(&a.Objects[i])
		}
	}
}

func (l *ledger) fluid(s *procedure.Supply) *fluid {
	f, ok := l.fluids[s]
	if !ok {
		f = &fluid{}
		put(&l.fluids, s, f)
	}
	return f
}

// sealRemoved notes that a part which seals a fluid comes off, unless the fluid is out.
func (l *ledger) sealRemoved(g *group) {
	for _, r := range g.part.Places {
		if r.Kind == procedure.Seals && r.Supply != nil && !l.fluid(r.Supply).drained {
			l.removals = append(l.removals, removal{g.part, r.Supply, r.Name, handled{inner(l.act), l.step, l.act}})
		}
	}
}

func (l *ledger) drain(o *procedure.Object) {
	f := l.fluid(o.Supply)
	if !f.drained {
		l.removedWet(o)
	}
	f.drained, f.by = true, l.here(o)
}

// removedWet reports a seal that came off before the fluid was drained. The drain point is what came off in the drain's own
// step, else something opened there, else the first step with any.
func (l *ledger) removedWet(o *procedure.Object) {
	var mine []removal
	for _, r := range l.removals {
		if r.supply == o.Supply {
			mine = append(mine, r)
		}
	}
	if len(mine) == 0 || l.step == nil {
		return
	}
	point := mine[0].by.step
	for _, r := range mine {
		if r.by.step == l.step {
			point = l.step
		}
	}
	for _, a := range l.step.Acts {
		if point != l.step && a.Verb.Effect == verb.Open && a.At.Start < l.act.At.Start {
			point = l.step
		}
	}
	for _, r := range mine {
		if r.by.step == point || r.by.step == l.step {
			continue
		}
		name := r.part.Name.Value
		c := l.find("order/removed-wet", r.by.at, []string{name, o.Supply.Name.Value}, procedure.Fold(name)+"\x00wet")
		if r.by.step != nil {
			c.fault.Step = r.by.step.Number
		}
		c.fault.Related = l.here(o).related("drained")
		return
	}
}

func (l *ledger) fill(o *procedure.Object) {
	f := l.fluid(o.Supply)
	l.filledOpen(o)
	if l.act.Verb.Effect == verb.Fill { // topping up is no filling of what was drained
		f.drained = false
	}
	if l.bleeding.opened && holdsAny(procedure.Fold(o.Supply.Name.Value+" "+o.Supply.Detail), "brake", "hydraulic") {
		l.bleeding.due = true
	}
	l.removals = nil
}

// filledOpen reports a fluid that goes in while something that seals it is off, or it or what holds it is short of its
// torque, if that is mended later.
func (l *ledger) filledOpen(o *procedure.Object) {
	for _, g := range l.groups {
		if g == nil || !relates(g.part, procedure.Seals, o.Supply) || relates(g.part, procedure.Fills, o.Supply) || g.part.UpTo {
			continue
		}
		if g.part.Use == procedure.Omit {
			continue
		}
		if g.on() < g.part.Qty {
			l.openAtFill(o, g, "off", verb.Install, verb.Replace, verb.Snug)
			return
		}
		if !g.secure() && g.part.Fastener() {
			l.openAtFill(o, g, "short of torque", verb.Tighten, verb.DoTorque, verb.Snug)
			return
		}
		short := (*group)(nil)
		l.holders(g, func(f *group, _ bool) {
			if f.part.Fastener() && !l.followsPartner(f) && f.gripped(slack, in, hand, stage, tight) > 0 {
				short = f
			}
		})
		if short != nil {
			l.openAtFill(o, short, "short of torque", verb.Tighten, verb.DoTorque, verb.Snug)
			return
		}
	}
}

func (l *ledger) openAtFill(o *procedure.Object, g *group, what string, late ...verb.Effect) {
	name, part, now := g.part.Name.Value, g.part, l.clock
	c := l.find("order/filled-open", l.at(o), []string{o.Supply.Name.Value, name, what}, procedure.Fold(name)+"\x00filled", procedure.Fold(name))
	c.waitFor(func() (event, bool) { return l.later(now, part, late) })
}

func relates(p *procedure.Part, kind procedure.RelationKind, s *procedure.Supply) bool {
	for _, r := range p.Places {
		if r.Kind == kind && (r.Supply == s || r.Supply == nil && r.Name == procedure.Fold(s.Name.Value)) {
			return true
		}
	}
	return false
}

// spend books what an act takes of a supply. Supply, fill and top up spend; any other verb only uses it, so that what is
// inserted and supplied in one step is spent once.
func (l *ledger) spend(a *procedure.Act, o *procedure.Object) {
	s := o.Supply
	if s == nil {
		return
	}
	x := l.used(s)
	x.Acts = append(x.Acts, a)
	switch a.Verb.Effect {
	case verb.Spend, verb.Fill, verb.TopUp:
	default:
		return
	}
	switch {
	case a.Amount != nil:
		x.add(*a.Amount)
	case a.Pieces > 0:
		x.Pieces += a.Pieces
	case a.Verb.Effect == verb.Fill && s.Quantity != nil:
		x.rest(s)
	case a.Verb.Effect == verb.Spend && s.Quantity == nil:
		x.Pieces++
	}
}

// used gives the account of a supply.
func (l *ledger) used(s *procedure.Supply) *Spent {
	for i := range l.play.Spent {
		if l.play.Spent[i].Supply == s {
			return &l.play.Spent[i]
		}
	}
	l.play.Spent = append(l.play.Spent, Spent{Supply: s, First: l.step})
	return &l.play.Spent[len(l.play.Spent)-1]
}

// add books an amount.
func (x *Spent) add(v quantity.Value) {
	_, high := v.SI()
	if high == nil || x.Supply.Quantity == nil || v.Unit.Kind != x.Supply.Quantity.Unit.Kind {
		return
	}
	if x.Amount == nil {
		x.Amount, x.Unit = high, v.Unit
		return
	}
	x.Amount = quantity.Added(x.Amount, high)
}

// rest books what is left of the declared quantity: a fill that does not say how much takes that.
func (x *Spent) rest(s *procedure.Supply) {
	_, all := s.Quantity.SI()
	if x.Amount == nil {
		x.Amount, x.Unit = new(big.Rat), s.Quantity.Unit
	}
	if all != nil && quantity.Compare(all, x.Amount) > 0 {
		x.Amount = all
	}
}
