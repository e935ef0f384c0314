package assembly

import (
	"math/big"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// place is where one unit of a part is.
type place uint8

const (
	on place = iota
	off
	scrap
	packet // new, not yet on the machine
)

// grip is how tight a unit is while it is on.
type grip uint8

const (
	slack grip = iota
	in
	hand
	stage // torqued, short of the table's value
	tight
	final
)

func (g grip) String() string {
	return [...]string{"slack", "in", "hand-tight", "stage", "tight", "final"}[g]
}

// unit is one piece of a part.
type unit struct {
	place place
	grip  grip
	new   bool
}

// handled is an act upon a part: where, in which step.
type handled struct {
	at   source.Span
	step *procedure.Step
	act  *procedure.Act
}

// deed is an act upon a part, and the object of the act that names it; no object stands for all that the act says. A play keeps
// many: where they stand is told when it is asked.
type deed struct {
	act *procedure.Act
	obj *procedure.Object
}

// handled tells where the act was done.
func (d deed) handled() handled {
	switch {
	case d.act == nil:
		return handled{}
	case d.obj == nil:
		return handled{inner(d.act), d.act.Step, d.act}
	}
	return handled{placeOf(d.act, d.obj), d.act.Step, d.act}
}

func (d deed) related(words string) []source.Related { return d.handled().related(words) }

// group is all units of one part, and who handled them last.
type group struct {
	part    *procedure.Part
	units   []unit
	touched bool
	last    deed // handled any unit of it
	took    deed // took it off, or slackened it
	went    deed // put it on, since it last came off
	put     bool // something put it on
	// atTorque says that the table's torque is there and its angle is not, or not all of it; turned is what was given of it,
	// summed over the units.
	atTorque bool
	turned   *big.Rat
}

// newGroups makes the units of all parts that a variant has, as they are before the first act; nil for those that it lacks.
func newGroups(parts []*procedure.Part, variant string) []*group {
	n := 0
	for _, p := range parts {
		n += p.Qty
		if renewed(p) {
			n += p.Qty
		}
	}
	groups, made, units := make([]*group, len(parts)), make([]group, len(parts)), make([]unit, 0, n)
	for i, p := range parts {
		if !p.In(variant) {
			continue
		}
		from := len(units)
		first := unit{place: on, grip: final}
		if p.Use == procedure.Add {
			first = unit{place: packet, new: true}
		}
		for range p.Qty {
			units = append(units, first)
		}
		for range p.Qty {
			if renewed(p) {
				units = append(units, unit{place: packet, new: true})
			}
		}
		made[i].part, made[i].units = p, units[from:len(units):len(units)]
		groups[i] = &made[i]
	}
	return groups
}

// renewed tells whether there are new units beside the old ones of a part.
func renewed(p *procedure.Part) bool {
	return p.Use == procedure.ReplaceUse || p.Use == procedure.IfWorn
}

func (g *group) count(is func(unit) bool) int {
	n := 0
	for _, u := range g.units {
		if is(u) {
			n++
		}
	}
	return n
}

func (g *group) on() int       { return g.count(func(u unit) bool { return u.place == on }) }
func (g *group) off() int      { return g.part.Qty - g.on() } // off, scrapped or not yet fitted
func (g *group) lying() int    { return g.count(func(u unit) bool { return u.place == off }) }
func (g *group) scrapped() int { return g.count(func(u unit) bool { return u.place == scrap }) }
func (g *group) packets() int  { return g.count(func(u unit) bool { return u.place == packet }) }

// freed counts the units that are off or slack: enough to free what they clamp.
func (g *group) freed() int {
	return g.part.Qty - g.count(func(u unit) bool { return u.place == on && u.grip != slack })
}

// change applies to up to k units that fit, in the order of the ranks; it gives how many were changed.
func (g *group) change(k int, fits func(unit) bool, to func(*unit)) int {
	n := 0
	for i := range g.units {
		if n >= k {
			break
		}
		if fits(g.units[i]) {
			to(&g.units[i])
			n++
		}
	}
	return n
}

// remove takes k units off, the loosest first.
func (g *group) remove(k int) {
	for at := slack; at <= final && k > 0; at++ {
		k -= g.change(k, func(u unit) bool { return u.place == on && u.grip == at }, func(u *unit) { u.place = off })
	}
}

// settled gives the grip of a unit that has just been put on.
func (g *group) settled() grip {
	if !g.part.Fastener() || g.part.Torque.HandTight {
		return final
	}
	return in
}

// install puts k units on: plain ones first take what lies about, then the packet; new ones come out of the packet, and
// each retires an old one. It gives how many went on, and how many of them were new.
func (g *group) install(k int, fresh bool) (n, news int) {
	grip := g.settled()
	put := func(u *unit) {
		u.place, u.grip = on, grip
		if u.new {
			news++
		}
	}
	if !fresh {
		n += g.change(k, func(u unit) bool { return u.place == off && !u.new }, put)
		n += g.change(k-n, func(u unit) bool { return u.place == off && u.new }, put)
	} else {
		n += g.change(k, func(u unit) bool { return u.place == off && u.new }, put)
	}
	if n == k {
		return n, news
	}
	more := g.change(k-n, func(u unit) bool { return u.place == packet }, put)
	g.retire()
	return n + more, news
}

// retire scraps the old units that new ones have taken the place of: those that lie about first, then those that are on.
// One that was scrapped before has made its room already.
func (g *group) retire() {
	scrapped := func(u *unit) { u.place = scrap }
	n := g.on() + g.lying() - g.part.Qty
	n -= g.change(n, func(u unit) bool { return u.place == off && !u.new }, scrapped)
	g.change(n, func(u unit) bool { return u.place == on && !u.new }, scrapped)
}

// replace swaps k units, on or off, for new ones.
func (g *group) replace(k int) int {
	n := g.change(k, func(u unit) bool { return u.place == packet }, func(u *unit) { u.place, u.grip = on, g.settled() })
	g.retire()
	return n
}

// regrip sets k units that are on to a grip, the loosest first. Units already tighter stay when keep says so.
func (g *group) regrip(k int, to grip, keep func(grip) bool) {
	var room [32]int
	chosen := room[:0]
	for at := slack; at <= final; at++ {
		for i, u := range g.units {
			if u.place == on && u.grip == at && len(chosen) < k {
				chosen = append(chosen, i)
			}
		}
	}
	for _, i := range chosen {
		if u := &g.units[i]; keep == nil || !keep(u.grip) {
			u.grip = to
		}
	}
}

// loose counts the units on with a grip.
func (g *group) gripped(is ...grip) int {
	return g.count(func(u unit) bool {
		for _, x := range is {
			if u.place == on && u.grip == x {
				return true
			}
		}
		return false
	})
}

// secure tells whether all units are on and as tight as they have to be.
func (g *group) secure() bool {
	return g.gripped(final) == g.part.Qty || g.part.UpTo && g.gripped(final) == g.on()
}

// cloned copies groups with their units.
func cloned(groups []*group) []*group {
	n := 0
	for _, g := range groups {
		if g != nil {
			n += len(g.units)
		}
	}
	all, made, units := make([]*group, len(groups)), make([]group, len(groups)), make([]unit, 0, n)
	for i, g := range groups {
		if g == nil {
			continue
		}
		from := len(units)
		units = append(units, g.units...)
		made[i] = *g
		made[i].units = units[from:len(units):len(units)]
		all[i] = &made[i]
	}
	return all
}
