package assembly

import (
	"math/big"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// turnIt loosens, tightens or torques.
func (l *ledger) turnIt(o *procedure.Object, g *group) {
	k := l.wanted(o, g, l.left(g))
	if g.went.act != nil && k == g.part.Qty && g.on() < k && l.act.Verb.Effect != verb.Loosen {
		// All of them are meant, and the act that put too few on is told of at the end: tighten those that are there.
		k = g.on()
	}
	if l.short("refit/already-off", o, g, k, g.on(), g.took, "came off") {
		return
	}
	switch l.act.Verb.Effect {
	case verb.Loosen:
		l.slacken(o, g, k)
	case verb.Tighten:
		to := tight
		if p := g.part; p.Torque.Value == nil && p.Torque.Angle == nil {
			to = final
		}
		g.regrip(k, to, func(at grip) bool { return at == final })
		l.note(g, verb.Tighten, o)
		l.clampFirst(o, g)
		l.moved(g, k, to.String(), false)
	case verb.DoTorque:
		l.torque(o, g, k)
	}
}

// left is how many units "the others" are: those that the act at hand has not come to yet, or all that are on where it has
// come to all of them.
func (l *ledger) left(g *group) int {
	done := 0
	switch l.act.Verb.Effect {
	case verb.Loosen:
		done = g.gripped(slack)
	case verb.Tighten:
		done = g.gripped(tight, final)
	case verb.DoTorque:
		done = g.gripped(final)
	}
	if n := g.on() - done; n > 0 {
		return n
	}
	return g.on()
}

// slacken loosens k units, the tightest ones: a unit that is slack already stays as it is.
func (l *ledger) slacken(o *procedure.Object, g *group, k int) {
	n := k
	for at := final; at > slack; at-- {
		k -= g.change(k, func(u unit) bool { return u.place == on && u.grip == at }, func(u *unit) { u.grip = slack })
	}
	l.note(g, verb.Loosen, o)
	g.took = g.last
	l.moved(g, n, "slack", false)
}

// torque holds the value of an act against the table and tightens k units.
func (l *ledger) torque(o *procedure.Object, g *group, k int) {
	table, written := g.part.Torque, l.act.Torque
	to := final
	switch {
	case written.Value == nil && written.Angle != nil: // "then 90°" alone
		ready := g.gripped(stage)
		if l.torquedSince(g.part) {
			ready += g.gripped(final)
		}
		if ready < k {
			l.find("torque/angle-without-torque", l.at(o), []string{g.part.Name.Value}, procedure.Fold(g.part.Name.Value))
			return
		}
		if table.Angle != nil && g.gripped(stage) > 0 && !g.atTorque { // an angle behind a torque that is short
			to = stage
		}
	case written.Value != nil && table.Value != nil:
		switch against(*written.Value, *table.Value) {
		case -1:
			to, g.atTorque = stage, false
		case +1:
			l.differs(o, g, "above")
			return
		case 2:
			l.differs(o, g, "other")
			return
		}
	}
	if to == final && table.Angle != nil {
		var ok bool
		if to, ok = l.turnOn(o, g, k); !ok {
			return
		}
	}
	g.regrip(k, to, func(at grip) bool { return at == final && to == stage })
	l.note(g, verb.DoTorque, o)
	l.clampFirst(o, g)
	if to == final {
		put(&l.play.Last, g.part, l.act)
	}
	l.moved(g, k, to.String(), false)
}

// turnOn holds the angle of an act against the table's, for units that have their torque. An angle may be given in parts: its
// sum over all units is what counts. ok is false when it is more than the table's.
func (l *ledger) turnOn(o *procedure.Object, g *group, k int) (to grip, ok bool) {
	table, written := g.part.Torque, l.act.Torque
	if written.Value != nil || written.Angle == nil {
		g.turned = nil
	}
	if written.Angle == nil {
		g.atTorque = true
		return stage, true
	}
	switch against(*written.Angle, *table.Angle) {
	case +1, 2:
		l.differs(o, g, "above")
		return final, false
	case -1:
		_, high := written.Angle.SI()
		low, _ := table.Angle.SI()
		sum := new(big.Rat).Mul(high, big.NewRat(int64(k), 1))
		if g.turned != nil {
			sum.Add(sum, g.turned)
		}
		g.turned, g.atTorque = sum, true
		if sum.Cmp(new(big.Rat).Mul(low, big.NewRat(int64(g.part.Qty), 1))) < 0 {
			return stage, true
		}
		g.regrip(g.on(), final, nil)
	}
	g.turned = nil
	return final, true
}

// torquedSince tells whether a part had a torque act since it was last off or slack.
func (l *ledger) torquedSince(p *procedure.Part) bool {
	for e := range l.backward {
		if e.part != p {
			continue
		}
		switch e.what {
		case verb.DoTorque:
			return true
		case verb.Remove, verb.Install, verb.Replace, verb.Loosen:
			return false
		}
	}
	return false
}

// against compares a written torque with the table's: 0 the same or within it, -1 below, +1 above, 2 neither.
func against(v, table quantity.Value) int {
	if v.Text != "" && v.Text == table.Text || quantity.Same(v, table) || v.Agrees(table) {
		return 0
	}
	low, high := v.SI()
	tl, th := table.SI()
	if low == nil || high == nil || tl == nil || th == nil {
		return 0
	}
	switch {
	case low.Cmp(tl) >= 0 && high.Cmp(th) <= 0:
		return 0
	case high.Cmp(tl) < 0:
		return -1
	case low.Cmp(th) > 0:
		return +1
	}
	return 2
}

func (l *ledger) differs(o *procedure.Object, g *group, what string) {
	at := l.act.Torque.At
	if !at.Known() || at == l.act.At { // no value stands there
		at = l.at(o)
	}
	name := g.part.Name.Value
	c := l.find("torque/differs-from-table", at, []string{name, saidTorque(l.act.Torque), g.part.Torque.At.Text(), what}, procedure.Fold(name))
	c.fault.Related = []source.Related{{At: g.part.Torque.At, Words: "the table"}}
}

// earlyTorque looks for units of a part that are still off when others of it get their final torque, and go in later.
func (l *ledger) earlyTorque(a *procedure.Act) {
	for i := range a.Objects {
		o := &a.Objects[i]
		if o.Part == nil {
			continue
		}
		g := l.group(o.Part)
		if g == nil || g.part.UpTo || g.off() == 0 || g.gripped(final) == 0 {
			continue
		}
		name, now, part := g.part.Name.Value, l.clock, g.part
		late := func() (event, bool) {
			return l.later(now, part, []verb.Effect{verb.Install}, verb.Remove, verb.Loosen)
		}
		c := l.find("order/torqued-early", l.at(o), []string{name, procedure.Plural(name)}, procedure.Fold(name))
		c.fault.Counts = []int{g.gripped(final), g.off()}
		c.waitFor(late)
	}
}

// waitFor makes a candidate stand only if a late act comes, and point to it.
func (c *candidate) waitFor(late func() (event, bool)) {
	c.late = func() bool { _, ok := late(); return ok }
	c.second = late
}

// saidTorque is what an act says of its torque: "22 N·m", "then 60°", or both.
func saidTorque(t procedure.Torque) string {
	var parts []string
	if t.Value != nil {
		parts = append(parts, t.Value.Running())
	}
	if t.Angle != nil {
		parts = append(parts, "then "+t.Angle.Running())
	}
	return strings.Join(parts, " ")
}
