package assembly

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// apply does one act.
func (l *ledger) apply(a *procedure.Act) {
	l.clock++
	l.act = a
	if a.Broken {
		l.muteBroken(a)
		return
	}
	l.uses(a)
	if a.Verb.Work {
		l.worked(a)
	}
	switch a.Verb.Effect {
	case verb.Remove, verb.Install, verb.Replace, verb.Discard, verb.Loosen, verb.Tighten, verb.Snug, verb.DoTorque:
		for i := range a.Objects {
			l.part(&a.Objects[i])
		}
		if a.Verb.Effect == verb.DoTorque {
			l.earlyTorque(a)
		}
	case verb.Drain:
		l.eachFluid(a, l.drain)
	case verb.Fill, verb.TopUp:
		l.eachFluid(a, l.fill)
	case verb.Open, verb.Close:
		for i := range a.Objects {
			l.turn(&a.Objects[i])
		}
	case verb.Isolate, verb.Restore:
		for i := range a.Objects {
			l.energy(&a.Objects[i])
		}
	case verb.Mark, verb.Align:
		for i := range a.Objects {
			l.mark(&a.Objects[i])
		}
	case verb.Start, verb.Await:
		if len(a.Objects) > 0 {
			l.wait(&a.Objects[0])
		}
	case verb.Measured, verb.Checked:
		l.prove()
		l.measuredEarly(a)
	}
	if a.Verb.Effect == verb.Checked || a.Verb.Effect == verb.Measured || a.Verb.Name == "tell" {
		l.cleared = true
	}
	if a.Verb.Name == "bleed" {
		l.bleeding.due = false
	}
}

// wanted is how many units an act means.
func (l *ledger) wanted(o *procedure.Object, g *group, possible int) int {
	switch o.Count {
	case procedure.Numbered:
		return o.N
	case procedure.Remaining:
		return possible
	}
	if g.part.UpTo {
		return possible
	}
	return g.part.Qty
}

// part does what the verb does to one declared part.
func (l *ledger) part(o *procedure.Object) {
	if o.Part == nil {
		return
	}
	g := l.group(o.Part)
	if g == nil {
		name := procedure.Fold(o.Part.Name.Value)
		l.find("part/unknown", o.NameAt, []string{o.Typed, "", "part", "variant"}, name)
		for _, other := range l.groups { // a row of this variant whose name is slipped in is what was meant
			if other != nil && alike(procedure.Fold(other.part.Name.Value), name) {
				l.mute(other.part.Name.Value)
			}
		}
		return
	}
	e := l.act.Verb.Effect
	if e != verb.Discard && l.inReach(o, g) {
		l.note(g, verb.None, o)
		return
	}
	switch e {
	case verb.Remove:
		l.remove(o, g)
	case verb.Install:
		l.install(o, g)
	case verb.Replace:
		l.replace(o, g)
	case verb.Discard:
		l.discard(o, g)
	case verb.Snug:
		l.snug(o, g)
	case verb.Loosen, verb.Tighten, verb.DoTorque:
		l.turnIt(o, g)
	}
}

// short reports an act on k units where only there can be done; true when it can't.
func (l *ledger) short(rule string, o *procedure.Object, g *group, k, there int, where deed, words string) bool {
	if k <= there && (k > 0 || o.Count != procedure.Remaining) {
		return false
	}
	name := g.part.Name.Value
	var c *candidate
	if there > 0 && rule != "refit/used-after-scrap" {
		c = l.find("part/too-many", l.at(o), []string{name, ""}, procedure.Fold(name))
		c.fault.Counts = []int{k, there, g.part.Qty}
	} else {
		names := []string{procedure.Fold(name)}
		if e := l.act.Verb.Effect; rule == "refit/already-off" && e != verb.Remove {
			names = l.offWith(g, names)
		} else if rule == "refit/already-on" && e == verb.Install {
			names = l.onWith(g, names)
		}
		c = l.find(rule, l.at(o), []string{name, procedure.Plural(name), l.act.Verb.Name}, names...)
		c.fault.Counts = []int{k, there}
	}
	c.fault.Related = where.related(words)
	return true
}

func (l *ledger) remove(o *procedure.Object, g *group) {
	if g.part.Use == procedure.Add && g.on() == 0 && g.lying() == 0 {
		l.useDiffers(o, g, "remove of add")
		return
	}
	k := l.wanted(o, g, g.on())
	if l.short("refit/already-off", o, g, k, g.on(), g.took, "came off") {
		return
	}
	l.heldOff(o, g, k)
	l.sealRemoved(g)
	g.remove(k)
	l.note(g, verb.Remove, o)
	g.took, g.went = g.last, deed{}
	l.moved(g, k, "off", false)
	if len(l.openings) > 0 {
		l.endSupport(procedure.Fold(g.part.Name.Value))
	}
}

func (l *ledger) useDiffers(o *procedure.Object, g *group, what string) {
	c := l.find("part/use-differs", l.at(o), []string{g.part.Name.Value, what, g.part.Use.String()}, procedure.Fold(g.part.Name.Value))
	c.fault.Related = []source.Related{{At: useAt(g.part), Words: "declared"}}
}

func useAt(p *procedure.Part) source.Span {
	if p.UseAt.Known() && p.UseAt.End > p.UseAt.Start {
		return p.UseAt
	}
	return p.Name.At
}

func (l *ledger) install(o *procedure.Object, g *group) {
	use := g.part.Use
	switch {
	case use == procedure.Omit:
		l.useDiffers(o, g, "install of omit")
		return
	case o.New && use == procedure.Reuse && g.lyingNew() == 0:
		l.useDiffers(o, g, "new of reuse")
		return
	}
	room := g.part.Qty - g.on()
	k := l.wanted(o, g, room)
	if room == 0 || o.Count == procedure.Remaining && k == 0 {
		l.short("refit/already-on", o, g, max(k, 1), 0, g.last, "went on")
		return
	}
	if k > room {
		l.short("refit/already-on", o, g, k, room, g.last, "went on")
		return
	}
	if there := g.available(o.New, o.Old); there < k {
		l.short("refit/used-after-scrap", o, g, k, there, g.took, "scrapped")
		return
	}
	l.fastenerFirst(o, g, k)
	n, news := g.install(k, o.New)
	l.note(g, verb.Install, o)
	g.put, g.went = true, g.last
	l.moved(g, n-news, "on", false)
	l.moved(g, news, "on", true)
}

// lyingNew counts new units that were on and came off again.
func (g *group) lyingNew() int { return g.count(func(u unit) bool { return u.place == off && u.new }) }

// available counts the units that could go on.
func (g *group) available(fresh, old bool) int {
	switch {
	case fresh:
		return g.packets() + g.lyingNew()
	case old:
		return g.count(func(u unit) bool { return u.place == off && !u.new })
	}
	return g.lying() + g.packets()
}

func (l *ledger) replace(o *procedure.Object, g *group) {
	if use := g.part.Use; use != procedure.ReplaceUse && use != procedure.IfWorn {
		l.useDiffers(o, g, "replace of "+use.String())
		return
	}
	k := l.wanted(o, g, g.packets())
	if l.short("refit/used-after-scrap", o, g, k, g.packets(), g.last, "used") {
		return
	}
	l.heldOff(o, g, min(k, g.on()))
	l.sealRemoved(g)
	n := g.replace(k)
	l.note(g, verb.Replace, o)
	g.took, g.put = g.last, true
	l.moved(g, n, "on", true)
}

func (l *ledger) discard(o *procedure.Object, g *group) {
	k := l.wanted(o, g, g.lying())
	if o.Count != procedure.Numbered && g.lying() > 0 { // "discard the old gasket": what lies there
		k = g.lying()
	}
	if there := g.lying() + g.scrapped(); g.lying() < k && k <= there { // a new one retired the old one already: this says where it goes
		k = g.lying()
	}
	if k == 0 && g.scrapped() > 0 || g.part.Use == procedure.Add && g.lying() == 0 || l.short("refit/already-on", o, g, k, g.lying(), g.last, "is on") {
		return
	}
	n := g.change(k, func(u unit) bool { return u.place == off && !u.new }, func(u *unit) { u.place = scrap })
	g.change(k-n, func(u unit) bool { return u.place == off }, func(u *unit) { u.place = scrap })
	l.note(g, verb.Discard, o)
	g.took = g.last
	l.moved(g, k, "scrap", false)
}

func (l *ledger) snug(o *procedure.Object, g *group) {
	k := l.wanted(o, g, g.part.Qty)
	if missing := k - g.on(); missing > 0 {
		there := g.available(o.New, o.Old)
		if missing > there {
			l.short("refit/used-after-scrap", o, g, missing, there, g.took, "scrapped")
			return
		}
		l.fastenerFirst(o, g, missing)
		n, news := g.install(missing, o.New)
		g.put, g.went = true, deed{l.act, o}
		l.log = append(l.log, event{l.clock, g.part, verb.Install, g.went})
		l.moved(g, n-news, "on", false)
		l.moved(g, news, "on", true)
	}
	to := hand
	if g.part.Torque.HandTight || g.part.Torque.BySetting {
		to = final
	}
	g.regrip(k, to, func(at grip) bool { return at > to })
	l.note(g, verb.Snug, o)
	l.moved(g, k, "hand", false)
}
