package assembly

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// inReach reports a part that is touched while what stands in front of it is on, or turned while it is locked.
func (l *ledger) inReach(o *procedure.Object, g *group) (blocked bool) {
	for _, r := range g.part.Places {
		if r.Kind != procedure.Behind || r.Part == nil {
			continue
		}
		front := l.group(r.Part)
		if front == nil || len(l.openings) > 0 && l.standsOpen(procedure.Fold(r.Part.Name.Value)) {
			continue
		}
		k := max(l.wanted(o, g, 1), 1)
		if k*front.part.Qty <= front.off()*g.part.Qty || front.off() == front.part.Qty {
			continue
		}
		l.behind(o, g, front)
		return true
	}
	return l.locked(o, g)
}

func (l *ledger) behind(o *procedure.Object, g, front *group) {
	name, other := g.part.Name.Value, front.part.Name.Value
	what := ""
	where := []source.Related{{At: front.part.Name.At, Words: "in front"}}
	if front.put {
		what = "front first"
		where = front.last.related("went on")
	}
	c := l.find("order/behind", l.at(o), []string{name, other, l.act.Verb.Name, what}, procedure.Fold(name), procedure.Fold(other))
	l.holders(front, func(f *group, _ bool) { // they would have come off with it
		if f.off() == 0 && f != g {
			c.names = append(c.names, procedure.Fold(f.part.Name.Value))
		}
	})
	c.fault.Related = where
}

// locked reports a part that is turned while all of what locks it is on, or final where that is a fastener.
func (l *ledger) locked(o *procedure.Object, g *group) bool {
	switch l.act.Verb.Effect {
	case verb.Loosen, verb.Tighten, verb.Snug, verb.DoTorque, verb.Remove:
	default:
		return false
	}
	lock := l.lockOf(g)
	if lock == nil {
		return false
	}
	name, other := g.part.Name.Value, lock.part.Name.Value
	c := l.find("order/held", l.at(o), []string{name, other, "locked"}, procedure.Fold(name), procedure.Fold(other))
	c.fault.Related = []source.Related{{At: lock.part.Name.At, Words: "locks it"}}
	if lock.last.act != nil {
		c.fault.Related = lock.last.related("put on")
	}
	return true
}

// lockOf gives what keeps a part from turning just now; nil when nothing does.
func (l *ledger) lockOf(g *group) *group {
	if !l.locks {
		return nil
	}
	for _, lock := range l.groups {
		if lock == nil || lock == g {
			continue
		}
		for _, r := range lock.part.Places {
			if r.Kind != procedure.Locks || r.Part == nil || l.group(r.Part) != g {
				continue
			}
			if lock.part.Fastener() && lock.gripped(final) == lock.part.Qty || !lock.part.Fastener() && lock.on() == lock.part.Qty {
				return lock
			}
		}
	}
	return nil
}

// holders visits what holds or clamps a part.
func (l *ledger) holders(g *group, visit func(f *group, clamps bool)) {
	for _, f := range l.groups {
		if f == nil || f == g {
			continue
		}
		for _, r := range f.part.Places {
			if (r.Kind == procedure.Holds || r.Kind == procedure.Clamps) && r.Part != nil && l.group(r.Part) == g {
				visit(f, r.Kind == procedure.Clamps)
			}
		}
	}
}

// heldOff reports a part that comes off while its fasteners hold it: x of it may be off while f of them are only if
// x times their number is at most f times its own.
func (l *ledger) heldOff(o *procedure.Object, g *group, k int) {
	if l.full() {
		return
	}
	l.holders(g, func(f *group, clamps bool) {
		free := f.off()
		if clamps {
			free = f.freed()
		}
		x := g.off() + k
		if x*f.part.Qty <= free*g.part.Qty || f.part.UpTo {
			return
		}
		name, other := g.part.Name.Value, f.part.Name.Value
		c := l.find("order/held", l.at(o), []string{name, other, "off while held"}, procedure.Fold(name), procedure.Fold(other))
		c.fault.Counts = []int{f.part.Qty - free, f.part.Qty}
		c.fault.Related = []source.Related{{At: f.part.Name.At, Words: "holds it"}}
	})
}

// fastenerFirst reports a fastener that goes in before what it holds, if that goes on later.
func (l *ledger) fastenerFirst(o *procedure.Object, f *group, k int) {
	for _, r := range f.part.Places {
		if r.Kind != procedure.Holds || r.Part == nil {
			continue
		}
		g := l.group(r.Part)
		if g == nil || g.part.Use == procedure.Omit || g.part.UpTo {
			continue
		}
		if g.off()*f.part.Qty <= (f.off()-k)*g.part.Qty {
			continue
		}
		now, held := l.clock, g.part
		name, other := f.part.Name.Value, held.Name.Value
		c := l.find("order/held", l.at(o), []string{name, other, "fastener first"}, procedure.Fold(name), procedure.Fold(other))
		fastener := f.part
		c.waitFor(func() (event, bool) {
			if e, ok := l.later(now, held, []verb.Effect{verb.Install, verb.Replace}); ok {
				if x, out := l.later(now, fastener, []verb.Effect{verb.Remove}); out && x.at < e.at {
					return event{}, false // it came out again first: a trial
				}
				return e, true
			}
			return event{}, false
		})
	}
}

// clampFirst reports a clamp that is tightened before what it clamps, if that goes on later and the clamp is not slackened
// again in between.
func (l *ledger) clampFirst(o *procedure.Object, f *group) {
	for _, r := range f.part.Places {
		if r.Kind != procedure.Clamps || r.Part == nil {
			continue
		}
		g := l.group(r.Part)
		if g == nil || g.off() < g.part.Qty || g.part.Use == procedure.Omit || g.part.UpTo {
			continue
		}
		now, clamped, clamp := l.clock, g.part, f.part
		c := l.find("order/held", l.at(o), []string{clamp.Name.Value, clamped.Name.Value, "clamp first"}, procedure.Fold(clamp.Name.Value), procedure.Fold(clamped.Name.Value))
		c.waitFor(func() (event, bool) {
			e, ok := l.later(now, clamped, []verb.Effect{verb.Install, verb.Replace})
			if !ok {
				return event{}, false
			}
			if x, loose := l.later(now, clamp, []verb.Effect{verb.Loosen, verb.Remove}); loose && x.at < e.at {
				return event{}, false
			}
			return e, true
		})
	}
}

// measuredEarly reports a measurement of a part whose fasteners are slack, unless the step slackens something itself.
func (l *ledger) measuredEarly(a *procedure.Act) {
	if a.Verb.Effect != verb.Measured || l.step == nil {
		return
	}
	for _, other := range l.step.Acts {
		if other.Verb.Effect == verb.Loosen {
			return
		}
	}
	for _, m := range a.Mentions {
		if m.Part == nil {
			continue
		}
		g := l.group(m.Part)
		if g == nil {
			continue
		}
		l.holders(g, func(f *group, _ bool) {
			if f.gripped(slack) == 0 {
				return
			}
			name, other := g.part.Name.Value, f.part.Name.Value
			c := l.find("order/measured-early", m.At, []string{name, other}, procedure.Fold(name), procedure.Fold(other))
			c.fault.Related = f.took.related("slackened")
		})
	}
}

// uses counts what an act names, and spends supplies.
func (l *ledger) uses(a *procedure.Act) {
	for i := range a.Objects {
		l.spend(a, &a.Objects[i])
	}
	for i := range a.Mentions {
		if m := &a.Mentions[i]; m.Supply != nil {
			l.used(m.Supply)
		}
		if m := &a.Mentions[i]; m.Part != nil && a.Verb.Effect != verb.Hold {
			if g := l.group(m.Part); g != nil {
				g.touched = true
			}
		}
	}
}
