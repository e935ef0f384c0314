package assembly

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// leftOn is what the front matter's leaves wants at the end.
type leftOn struct {
	names map[string]bool // things by name
	off   map[*group]int  // how many units may stay off, those that hold what stays off among them
	loose map[*group]int  // how many may stay short of final
}

func (l *ledger) wants() leftOn {
	var w leftOn
	if len(l.p.Leaves) == 0 {
		return w
	}
	w = leftOn{map[string]bool{}, map[*group]int{}, map[*group]int{}}
	for _, a := range l.p.Leaves {
		for i := range a.Objects {
			o := &a.Objects[i]
			w.names[o.Name] = true
			g := l.groupOf(o)
			if g == nil {
				continue
			}
			k := l.wantedOf(o, g, a)
			switch a.Verb.Effect {
			case verb.Remove:
				w.off[g] = max(w.off[g], k)
				l.holders(g, func(f *group, clamps bool) {
					along := holding(k, g, f)
					w.loose[f] = max(w.loose[f], along)
					if !clamps {
						w.off[f] = max(w.off[f], along)
					}
				})
			case verb.Loosen, verb.Snug, verb.Install:
				w.loose[g] = max(w.loose[g], k)
			}
		}
	}
	return w
}

// holding is how many of the fasteners f have to be free for k units of g to be off.
func holding(k int, g, f *group) int {
	if g.part.Qty == 0 {
		return 0
	}
	return (k*f.part.Qty + g.part.Qty - 1) / g.part.Qty
}

// ends reports what does not close at the end of the job.
func (l *ledger) ends() {
	w := l.wants()
	l.leavesDiffer(w)
	for _, g := range l.groups {
		if g != nil && !l.asItWas(g) {
			l.partEnds(g, w)
		}
	}
	l.openEnds()
	for _, s := range l.p.Supplies {
		f, ok := l.fluids[s]
		if ok && f.drained && !w.names[procedure.Fold(s.Name.Value)] {
			l.endFind("refit/not-filled", f.by, []string{s.Name.Value}, procedure.Fold(s.Name.Value))
		}
	}
	l.energyEnds(w.names)
	for _, t := range l.waits {
		if x := t.is; x.open && !w.names[t.name] {
			l.endFind("order/never-awaited", x.by, []string{x.typed}, t.name)
		}
	}
	for _, t := range l.marks {
		if x := t.is; x.open && !w.names[t.name] {
			l.endFind("refit/mark-unused", x.by, []string{x.typed}, t.name)
		}
	}
	if l.bleeding.due {
		l.endFind("order/not-bled", l.bleeding.line, []string{l.bleeding.typed}, procedure.Fold(l.bleeding.typed)+aside+"bled")
	}
}

// endFind records a fault at the last act that handled a thing; at the row when no act did.
func (l *ledger) endFind(name string, by handled, words []string, names ...string) *candidate {
	c := l.find(name, by.at, words, names...)
	c.act = by.act
	if by.step != nil {
		c.fault.Step = by.step.Number
	}
	return c
}

// lastAt is where a part was handled last, its row when it never was.
func (g *group) lastAt() handled {
	if g.last.act != nil {
		return g.last.handled()
	}
	return handled{at: g.part.Name.At}
}

// wentAt is the act that put a part on, not a torque of it later: that is where too few, or old ones, went back.
func (g *group) wentAt() handled {
	if g.went.act != nil {
		return g.went.handled()
	}
	return g.lastAt()
}

func (l *ledger) partEnds(g *group, w leftOn) {
	name := procedure.Fold(g.part.Name.Value)
	p := g.part
	missing := p.Qty - g.on() - w.off[g]
	switch {
	case p.Use == procedure.Omit:
		if g.on() > 0 {
			c := l.endFind("part/use-differs", g.lastAt(), []string{p.Name.Value, "omit left on", p.Use.String()}, name)
			c.fault.Related = []source.Related{{At: useAt(p), Words: "declared"}}
		}
		return
	case p.Use == procedure.Add && g.on() == 0 && g.lying() == 0 && !p.UpTo && w.off[g] == 0:
		if g.count(func(u unit) bool { return u.place == scrap }) == 0 {
			c := l.endFind("part/use-differs", g.lastAt(), []string{p.Name.Value, "add never fitted", p.Use.String()}, name)
			c.fault.Related = []source.Related{{At: useAt(p), Words: "declared"}}
			return
		}
	}
	if p.UpTo {
		missing = 0
	}
	if missing > 0 {
		l.leftOff(g, missing, w)
		return
	}
	if p.Use == procedure.ReplaceUse && g.count(func(u unit) bool { return u.place == on && !u.new }) > 0 {
		how := "never changed"
		if g.put {
			how = "put back"
		}
		l.endFind("refit/old-part-back", g.wentAt(), []string{p.Name.Value, how}, name).fault.Related = g.took.related("came off")
		return
	}
	l.gripEnds(g, name, w.loose[g])
}

// leftOff reports parts that never go back, unless what they hold, clamp or stand behind is missing too: then that is the
// finding.
func (l *ledger) leftOff(g *group, missing int, w leftOn) {
	names := []string{procedure.Fold(g.part.Name.Value)}
	for _, r := range g.part.Places {
		if r.Part == nil || r.Kind != procedure.Holds && r.Kind != procedure.Clamps && r.Kind != procedure.Behind {
			continue
		}
		if x := l.group(r.Part); x != nil && x.off()-w.off[x] > 0 && !x.part.UpTo && x.part.Use != procedure.Omit && x != g {
			return
		}
	}
	at := g.wentAt()
	c := l.endFind("refit/left-off", at, []string{g.part.Name.Value, procedure.Plural(g.part.Name.Value)}, names...)
	c.fault.Counts = []int{missing, g.part.Qty}
	if g.took.act != nil && g.took.act != at.act {
		c.fault.Related = g.took.related("came off")
	}
}

// gripEnds reports fasteners that are not as tight as they have to be, save as many as may be left so.
func (l *ledger) gripEnds(g *group, name string, allowed int) {
	p := g.part
	if !p.Fastener() || g.gripped(final) == g.on() || l.followsPartner(g) {
		return
	}
	if other := l.partnerOf(g); other != nil && !other.secure() { // the one that has the torque tells what is wrong
		return
	}
	locked := l.lockOf(g) != nil
	words := []string{p.Name.Value, procedure.Plural(p.Name.Value)}
	if g.gripped(stage) > allowed {
		l.shortOfTable(g, name)
		return
	}
	loose := g.gripped(slack)
	if !p.Torque.Written || p.Torque.HandTight || p.Torque.BySetting {
		loose += g.gripped(hand)
		if p.Torque.Written {
			loose += g.gripped(in)
		}
	}
	loose -= allowed
	switch {
	case loose > 0 && !locked:
		word := "slack"
		if g.gripped(slack) == 0 {
			word = "hand-tight"
		}
		c := l.endFind("refit/left-loose", g.lastAt(), append(words, word), name)
		c.fault.Counts = []int{loose, p.Qty}
		if g.took.act != nil && g.took.act != g.last.act {
			c.fault.Related = g.took.related("slackened")
		}
	case p.Torque.Value != nil || p.Torque.Angle != nil:
		n := g.on() - g.gripped(final) - allowed
		if n <= 0 {
			return
		}
		c := l.endFind("refit/not-torqued", g.lastAt(), append(words, p.Torque.At.Text()), name)
		c.fault.Counts = []int{n, p.Qty}
		c.fault.Related = []source.Related{{At: p.Torque.At, Words: "the table"}}
	}
}

// shortOfTable reports a last torque below the table's, or an angle that was never given.
func (l *ledger) shortOfTable(g *group, name string) {
	p := g.part
	last := g.lastAt()
	what, written := "below", ""
	at := last.at
	if last.act != nil && (last.act.Torque.Value != nil || last.act.Torque.Angle != nil) {
		written = saidTorque(last.act.Torque)
		if last.act.Torque.At != last.act.At {
			at = last.act.Torque.At
		}
	}
	if g.atTorque && g.turned == nil {
		what, at = "no angle", last.at
	}
	c := l.endFind("torque/differs-from-table", handled{at, last.step, last.act}, []string{p.Name.Value, written, p.Torque.At.Text(), what}, name)
	c.fault.Related = []source.Related{{At: p.Torque.At, Words: "the table"}}
}

// partnerOf gives the fastener with a torque that one without shares thread and relations with, as a bolt does with its nut;
// nil when there is none.
func (l *ledger) partnerOf(g *group) *group {
	p := g.part
	if p.Torque.Written || p.Hardware.Thread == nil {
		return nil
	}
	for _, other := range l.groups {
		if other == nil || other == g || !other.part.Torque.Written || other.part.Hardware.Thread == nil {
			continue
		}
		if sameThread(p, other.part) && sameRelations(p, other.part) {
			return other
		}
	}
	return nil
}

// followsPartner tells whether a fastener is as tight as it has to be because its partner is.
func (l *ledger) followsPartner(g *group) bool {
	other := l.partnerOf(g)
	return other != nil && other.secure() && !l.slackenedBehind(g, other)
}

// slackenedBehind tells whether a fastener was slackened after its partner was tightened last: then it follows it no more.
func (l *ledger) slackenedBehind(g, other *group) bool {
	for e := range l.backward {
		switch {
		case e.part == g.part && e.what == verb.Loosen:
			return true
		case e.part == other.part && (e.what == verb.DoTorque || e.what == verb.Tighten || e.what == verb.Snug):
			return false
		}
	}
	return false
}

func sameThread(p, q *procedure.Part) bool {
	return strings.EqualFold(p.Hardware.Thread.Name, q.Hardware.Thread.Name)
}

func sameRelations(p, q *procedure.Part) bool {
	if len(p.Places) != len(q.Places) {
		return false
	}
	for i := range p.Places {
		if p.Places[i].Kind != q.Places[i].Kind || p.Places[i].Name != q.Places[i].Name {
			return false
		}
	}
	return true
}

// leavesDiffer holds what leaves says against the ledger.
func (l *ledger) leavesDiffer(w leftOn) {
	for _, a := range l.p.Leaves {
		if a.Broken {
			continue
		}
		for i := range a.Objects {
			o := &a.Objects[i]
			if has, ok := l.stands(a, o); !ok {
				c := l.find("refit/leaves-differ", inner(a), []string{o.Typed, a.Verb.Name, has}, o.Name)
				for _, x := range l.sortedOpenings() {
					if x.open && alike(x.name, o.Name) { // the same thing under another name
						c.names = append(c.names, x.name)
						c.fault.Related = append(c.fault.Related, x.by.related("may be meant")...)
					}
				}
			}
		}
	}
}

// stands tells whether a thing stands as an act of leaves says; has is how it stands.
func (l *ledger) stands(a *procedure.Act, o *procedure.Object) (has string, ok bool) {
	g := l.groupOf(o)
	switch a.Verb.Effect {
	case verb.Remove:
		if g == nil {
			return "not in this variant", true
		}
		return g.summary(), g.off() >= l.wantedOf(o, g, a)
	case verb.Loosen:
		return grips(g), g == nil || g.gripped(slack) >= l.wantedOf(o, g, a)
	case verb.Snug:
		if g == nil {
			return "", true
		}
		n := g.gripped(hand)
		if g.part.Torque.HandTight || g.part.Torque.BySetting {
			n = g.gripped(final) // as tight as it has to be
		}
		return grips(g), n >= l.wantedOf(o, g, a)
	case verb.Install:
		return grips(g), g == nil || g.on() >= l.wantedOf(o, g, a)
	case verb.Start:
		x := l.waits.get(o.Name)
		return "not running", x != nil && x.open
	case verb.Mark:
		return "not marked", l.marks.get(o.Name) != nil
	case verb.Drain:
		f, known := l.fluids[o.Supply]
		return drainedWord(known && f.drained), known && f.drained
	case verb.Isolate:
		x := l.isolated.get(o.Name)
		return isolatedWord(x != nil && x.on), x != nil && x.on
	case verb.Open, verb.Close:
		x := l.openings.get(openKey(l.opener(a.Verb), o.Name))
		want := a.Verb.Effect == verb.Open
		if x == nil {
			return "never touched", false
		}
		if x.open {
			return verb.Past(x.opens.Name), want
		}
		return openWord(x), !want
	}
	return "", true
}

func grips(g *group) string {
	if g == nil {
		return ""
	}
	return g.summary()
}
