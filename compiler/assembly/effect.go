package assembly

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
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
	switch a.Verb.Effect {
	case verb.Remove, verb.Install, verb.Replace, verb.Discard, verb.Loosen, verb.Tighten, verb.Snug, verb.DoTorque:
		l.worked(a)
		for i := range a.Objects {
			l.part(&a.Objects[i])
		}
		if a.Verb.Effect == verb.DoTorque {
			l.earlyTorque(a)
		}
	case verb.Drain:
		l.worked(a)
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
	name := procedure.Fold(o.Part.Name.Value)
	if g == nil {
		l.find("part/unknown", o.NameAt, []string{o.Typed, "", "part", "variant"}, name)
		l.mute(name)
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
func (l *ledger) short(rule string, o *procedure.Object, g *group, k, there int, where handled, words string) bool {
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
	g.took = g.last
	l.moved(g, k, "off", false)
	l.endSupport(procedure.Fold(g.part.Name.Value))
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
	g.put = true
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
	if g.part.Use == procedure.Add && g.lying() == 0 || l.short("refit/already-on", o, g, k, g.lying(), g.last, "is on") {
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
		g.put = true
		l.log = append(l.log, event{l.clock, g.part, verb.Install, l.here(o)})
		l.moved(g, n-news, "on", false)
		l.moved(g, news, "on", true)
	}
	to := hand
	if g.part.Torque.HandTight || g.part.Torque.BySetting {
		to = final
	}
	g.regrip(k, to, func(at grip) bool { return at == final })
	l.note(g, verb.Snug, o)
	l.moved(g, k, "hand", false)
}

// turnIt loosens, tightens or torques.
func (l *ledger) turnIt(o *procedure.Object, g *group) {
	k := l.wanted(o, g, g.on())
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

// slacken loosens k units, the tightest ones: a unit that is slack already stays as it is.
func (l *ledger) slacken(o *procedure.Object, g *group, k int) {
	tightOnes := g.on() - g.gripped(slack)
	for at := final; k > 0 && tightOnes > 0; at-- {
		k -= g.change(k, func(u unit) bool { return u.place == on && u.grip == at && at != slack }, func(u *unit) { u.grip = slack })
		if at == slack {
			break
		}
	}
	l.note(g, verb.Loosen, o)
	g.took = g.last
	l.moved(g, l.wanted(o, g, g.on()), "slack", false)
}

// torque holds the value of an act against the table and tightens k units.
func (l *ledger) torque(o *procedure.Object, g *group, k int) {
	table, written := g.part.Torque, l.act.Torque
	to := final
	switch {
	case written.Value == nil && written.Angle != nil: // "then 90°" alone
		if g.gripped(stage, final) < k {
			l.find("torque/angle-without-torque", l.at(o), []string{g.part.Name.Value}, procedure.Fold(g.part.Name.Value))
			return
		}
	case written.Value != nil && table.Value != nil:
		switch against(*written.Value, *table.Value) {
		case -1:
			to = stage
		case +1:
			l.differs(o, g, "above")
			return
		case 2:
			l.differs(o, g, "other")
			return
		}
	}
	if to == final && table.Angle != nil && written.Angle == nil {
		to, g.skipped = stage, true
	}
	if written.Angle != nil {
		g.skipped = false
	}
	g.regrip(k, to, func(at grip) bool { return at == final && to == stage })
	l.note(g, verb.DoTorque, o)
	l.clampFirst(o, g)
	if to == final {
		l.play.Last[g.part] = l.act
	}
	l.moved(g, k, to.String(), false)
}

// against compares a written torque with the table's: 0 the same or within it, -1 below, +1 above, 2 neither.
func against(v, table quantity.Value) int {
	if quantity.Same(v, table) || v.Agrees(table) {
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
	if !at.Known() {
		at = l.at(o)
	}
	name := g.part.Name.Value
	c := l.find("torque/differs-from-table", at, []string{name, l.act.Torque.Value.Running(), g.part.Torque.At.Text(), what}, procedure.Fold(name))
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
