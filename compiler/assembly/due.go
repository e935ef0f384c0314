package assembly

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// DueKind is what kind of act is missing.
type DueKind int

// The kinds of what is due.
const (
	DueFit     DueKind = iota // units of a part have to go on
	DueChange                 // a part that is to be replaced is on, and is the old one
	DueTighten                // units of a fastener have to be tightened to their end
	DueTurn                   // a thing by name has to be brought back to the state it began in
	DueFill                   // a fluid has to go in
	DueBleed                  // a line was opened and has to be bled once its fluid is in
	DueAwait                  // a wait was started
	DueAlign                  // a mark was made
	DueRestore                // something is isolated
)

// Due is one thing that has to be done to make the machine whole again, after the last step of a play.
type Due struct {
	Kind   DueKind
	Part   *procedure.Part   // of fit, change and tighten
	Supply *procedure.Supply // of fill
	N      int               // units; for what is counted by name, how many are in; else 1
	New    bool              // of fit: the units that go on are new ones of a part that has old ones too
	Verb   *verb.Verb        // of turn: what brings it back
	Typed  string            // the name as it was typed, of what goes by name
	Name   string            // that name folded
	Act    *procedure.Act    // that brought it about; nil where an earlier job did, or nothing
}

// due lists what is missing, parts in the order of the table, then things by name. What the front matter's leaves leaves so
// is not due.
func (l *ledger) due() (all []Due) {
	w := l.wants()
	tight := map[*group]bool{}
	for _, g := range l.groups {
		if g != nil && g.part.Use != procedure.Omit && !l.asItWas(g) {
			all = append(all, l.duePart(g, w, tight)...)
		}
	}
	for _, g := range l.groups { // a bolt whose nut is tightened is tight with it
		if g == nil || g.part.Use == procedure.Omit || l.asItWas(g) || l.partnerOf(g) == nil || tight[l.partnerOf(g)] {
			continue
		}
		if d := l.dueTight(g, w); d.N > 0 && !l.followsPartner(g) {
			all = append(all, d)
		}
	}
	return append(all, l.dueByName(w)...)
}

func (l *ledger) duePart(g *group, w leftOn, tight map[*group]bool) (all []Due) {
	p := g.part
	missing := p.Qty - g.on() - w.off[g]
	switch {
	case p.UpTo && p.Use == procedure.Add:
		missing = 0
	case missing > 0:
		fit := g.due(DueFit, missing)
		fit.New = p.Use == procedure.ReplaceUse
		all = append(all, fit)
	}
	old := g.count(func(u unit) bool { return u.place == on && !u.new })
	if p.Use == procedure.ReplaceUse && old > 0 && g.packets() > 0 && w.off[g] == 0 {
		all = append(all, g.due(DueChange, min(old, g.packets())))
	}
	if l.partnerOf(g) == nil {
		if t := l.dueTight(g, w); t.N > 0 {
			tight[g] = true
			all = append(all, t)
		}
	}
	return all
}

// dueTight is the fasteners that are, or will be, on and short of their end.
func (l *ledger) dueTight(g *group, w leftOn) Due {
	p := g.part
	if !p.Fastener() {
		return Due{}
	}
	n := g.gripped(slack, in, hand, stage, tight) - max(w.loose[g]-w.off[g], 0)
	if coming := p.Qty - g.on() - w.off[g]; coming > 0 && g.settled() != final && !p.UpTo {
		n += coming
	}
	if p.Use == procedure.ReplaceUse && g.settled() != final {
		n = max(n, min(g.count(func(u unit) bool { return u.place == on && !u.new }), g.packets()))
	}
	if n <= 0 {
		return Due{}
	}
	return g.due(DueTighten, n)
}

// due is one thing that is due of a part.
func (g *group) due(kind DueKind, n int) Due {
	d := Due{Kind: kind, N: n, Part: g.part, Name: procedure.Fold(g.part.Name.Value), Typed: g.part.Name.Value, Act: g.took.act}
	if d.Act == nil {
		d.Act = g.last.act
	}
	return d
}

// asItWas tells whether a part that stays was never touched and may not be left otherwise: there is nothing to tell of it.
func (l *ledger) asItWas(g *group) bool {
	return !g.touched && g.part.Use == procedure.Reuse && len(l.p.Leaves) == 0
}

// dueByName lists what goes by name: things opened, fluids, waits, marks, energy.
func (l *ledger) dueByName(w leftOn) (all []Due) {
	for _, x := range l.sortedOpenings() {
		if x.open == x.first || w.names[x.name] || x.free {
			continue
		}
		d := Due{Kind: DueTurn, Name: x.name, Typed: x.typed, N: max(x.n, 1), Verb: x.opens, Act: x.by.act}
		if x.open && len(x.opens.UndoneBy) > 0 {
			d.Verb, _ = l.verbs.Named(x.opens.UndoneBy[0])
		}
		if x.bulk {
			d.N = 1
		}
		all = append(all, d)
	}
	bleed := l.bleeding.due
	for _, s := range l.p.Supplies {
		if f, ok := l.fluids[s]; ok && f.drained && !w.names[procedure.Fold(s.Name.Value)] {
			all = append(all, Due{Kind: DueFill, Supply: s, N: 1, Name: procedure.Fold(s.Name.Value), Typed: s.Name.Value, Act: f.by.act})
			bleed = bleed || l.bleeding.opened && holdsAny(procedure.Fold(s.Name.Value+" "+s.Detail), "brake", "hydraulic")
		}
	}
	if b := l.bleeding; bleed {
		all = append(all, Due{Kind: DueBleed, N: 1, Name: procedure.Fold(b.typed), Typed: b.typed, Act: b.line.act})
	}
	named := func(kind DueKind, list things[named]) {
		for _, t := range list {
			if x := t.is; x.open && !w.names[t.name] {
				all = append(all, Due{Kind: kind, N: 1, Name: t.name, Typed: x.typed, Act: x.by.act})
			}
		}
	}
	named(DueAwait, l.waits)
	named(DueAlign, l.marks)
	for _, t := range l.isolated {
		if x := t.is; x.on && !w.names[t.name] {
			all = append(all, Due{Kind: DueRestore, N: 1, Name: t.name, Typed: x.typed, Act: x.by.act})
		}
	}
	return all
}
