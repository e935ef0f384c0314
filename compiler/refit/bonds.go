package refit

import (
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// bonds knows what has to come before what.
type bonds struct {
	p   *procedure.Procedure
	ops []*op
}

// find gives the acts due on a name.
func (b bonds) find(name string, kinds ...assembly.DueKind) (found []*op) {
	for _, x := range b.ops {
		if x.Name == name && slices.Contains(kinds, x.Kind) {
			found = append(found, x)
		}
	}
	return found
}

func (b bonds) fits(p *procedure.Part) []*op {
	return b.find(procedure.Fold(p.Name.Value), assembly.DueFit, assembly.DueChange)
}

func (b bonds) tights(p *procedure.Part) []*op {
	return b.find(procedure.Fold(p.Name.Value), assembly.DueTighten)
}

func (b bonds) both(p *procedure.Part) []*op { return append(b.fits(p), b.tights(p)...) }

// before says that each of some has to be done before each of others.
func before(some, others []*op) {
	for _, y := range others {
		for _, x := range some {
			if x != y {
				y.after = append(y.after, x)
			}
		}
	}
}

// bind finds what has to come before or behind one act.
func (b bonds) bind(x *op) {
	me := []*op{x}
	switch x.Kind {
	case assembly.DueFit, assembly.DueChange, assembly.DueTighten:
		b.part(x)
	case assembly.DueTurn:
		b.turn(x)
	case assembly.DueFill:
		b.fill(x)
	case assembly.DueBleed:
		for _, y := range b.ops {
			if y.Kind == assembly.DueFill {
				before([]*op{y}, me)
			}
		}
	case assembly.DueAlign:
		b.align(x)
	case assembly.DueRestore:
		for _, y := range b.ops {
			if y.Kind != assembly.DueRestore {
				before([]*op{y}, me)
			}
		}
	}
}

// part binds a part to what it holds, hides, locks and seals.
func (b bonds) part(x *op) {
	me, p := []*op{x}, x.Part
	if x.Kind == assembly.DueTighten {
		before(b.fits(p), me)
		for _, q := range b.p.Parts {
			if q != p && companions(p, q) {
				before(b.fits(q), me)
			}
		}
	}
	for _, r := range p.Places {
		switch {
		case r.Supply != nil && r.Kind == procedure.Fills:
			before(b.find(procedure.Fold(r.Supply.Name.Value), assembly.DueFill), me)
		case r.Part == nil:
		case r.Kind == procedure.Holds || r.Kind == procedure.Clamps:
			before(b.fits(r.Part), me)
		case r.Kind == procedure.Behind:
			before(me, b.fits(r.Part))
			before(me, b.find(procedure.Fold(r.Part.Name.Value), assembly.DueTurn))
		case r.Kind == procedure.Locks:
			before(b.both(r.Part), me)
		}
	}
}

// fill binds a fluid to what keeps it in, and to what holds or clamps that, save the plug that it goes in by.
func (b bonds) fill(x *op) {
	related := func(p *procedure.Part, kind procedure.RelationKind) bool {
		return slices.ContainsFunc(p.Places, func(r procedure.Relation) bool { return r.Kind == kind && r.Supply == x.Supply })
	}
	for _, p := range b.p.Parts {
		if !related(p, procedure.Seals) || related(p, procedure.Fills) {
			continue
		}
		before(b.both(p), []*op{x})
		for _, f := range b.p.Parts {
			for _, r := range f.Places {
				if (r.Kind == procedure.Holds || r.Kind == procedure.Clamps) && r.Part != nil && r.Part.Name.Value == p.Name.Value {
					before(b.both(f), []*op{x})
				}
			}
		}
	}
}

// off tells whether a part is off and goes back on.
func (b bonds) off(p *procedure.Part) bool {
	return len(b.find(procedure.Fold(p.Name.Value), assembly.DueFit)) > 0
}

// shut tells whether a part that is to be changed can't be got at: what hides, holds or locks it is on and stays on.
func (b bonds) shut(p *procedure.Part) bool {
	for _, r := range p.Places {
		if r.Kind == procedure.Behind && r.Part != nil && !b.off(r.Part) && len(b.find(procedure.Fold(r.Part.Name.Value), assembly.DueTurn)) == 0 {
			return true
		}
	}
	for _, f := range b.p.Parts {
		for _, r := range f.Places {
			if r.Part == nil || r.Part.Name.Value != p.Name.Value {
				continue
			}
			switch r.Kind {
			case procedure.Holds, procedure.Locks:
				if !b.off(f) {
					return true
				}
			case procedure.Clamps:
				if len(b.both(f)) == 0 {
					return true
				}
			}
		}
	}
	return false
}

// covered gives what stands in front of a part that goes on, is on, and stays on for all that the ledger knows.
func (b bonds) covered(x *op) *procedure.Part {
	for _, r := range x.Part.Places {
		if r.Kind != procedure.Behind || r.Part == nil || b.off(r.Part) || len(b.find(procedure.Fold(r.Part.Name.Value), assembly.DueTurn)) > 0 {
			continue
		}
		left := slices.ContainsFunc(b.p.Leaves, func(a *procedure.Act) bool {
			return slices.ContainsFunc(a.Objects, func(o procedure.Object) bool { return o.Part == r.Part })
		})
		if !left && r.Part.Use != procedure.Omit && r.Part.Use != procedure.Add {
			return r.Part
		}
	}
	return nil
}

// companions tells whether two fasteners are tightened together: they hold one part, or are bolt and nut.
func companions(p, q *procedure.Part) bool {
	for _, a := range p.Places {
		for _, c := range q.Places {
			if a.Kind == procedure.Holds && c.Kind == procedure.Holds && a.Part != nil && a.Part == c.Part {
				return true
			}
		}
	}
	t, u := p.Hardware.Thread, q.Hardware.Thread
	return len(p.Places) == 0 && len(q.Places) == 0 && t != nil && u != nil && t.Name == u.Name && !q.Torque.Written && p.Torque.Written
}

// fillers are words in the name of an opening through which a fluid goes in, or air out.
var fillers = []string{"fill", "vent", "breather", "dipstick", "bleed"}

// turn binds what is opened to the fluids: it is shut before one goes in, save where that goes in there.
func (b bonds) turn(x *op) {
	me := []*op{x}
	before(b.find(x.Name, assembly.DueFit), me)
	for _, y := range b.ops {
		switch {
		case y.Kind == assembly.DueFill && y.Supply.FromMachine && x.Verb.Effect == verb.Open:
			before(me, []*op{y}) // what was shut off is what it comes from
		case y.Kind != assembly.DueFill || x.Verb.Effect != verb.Close:
		case slices.ContainsFunc(fillers, func(w string) bool { return strings.Contains(x.Name, w) }):
			before([]*op{y}, me)
		case x.Verb.Pair == verb.Either || x.Verb.Name == "uncap":
			before(me, []*op{y})
		}
	}
}

// align binds a mark to the part that it is on: that has to be on, and its fasteners are put in behind it.
func (b bonds) align(x *op) {
	for _, y := range b.ops {
		if y.Part == nil || y.Kind == assembly.DueTighten || !strings.Contains(" "+x.Name+" ", " "+y.Name+" ") {
			continue
		}
		before([]*op{y}, []*op{x})
		for _, f := range b.p.Parts {
			for _, r := range f.Places {
				if r.Kind == procedure.Holds && r.Part == y.Part {
					before([]*op{x}, b.both(f))
				}
			}
		}
	}
}
