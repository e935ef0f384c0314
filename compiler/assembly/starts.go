package assembly

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// begin sets what earlier jobs have done: it is set, not played. A part that is off takes its holders and clamps along.
func (l *ledger) begin(acts []*procedure.Act) {
	for _, a := range acts {
		l.set(a)
	}
}

func (l *ledger) set(a *procedure.Act) {
	if a.Broken {
		return
	}
	for i := range a.Objects {
		o := &a.Objects[i]
		by := handled{inner(a), nil, a}
		switch a.Verb.Effect {
		case verb.Remove, verb.Loosen, verb.Snug:
			if g := l.groupOf(o); g != nil {
				l.setPart(a, o, g, deed{act: a})
			}
		case verb.Install:
			if g := l.groupOf(o); g != nil {
				g.install(l.wantedOf(o, g, a), o.New)
				g.last, g.touched = deed{act: a}, true
			}
		case verb.Drain:
			if o.Supply != nil {
				f := l.fluid(o.Supply)
				f.drained, f.by = true, by
			}
		case verb.Open, verb.Close:
			l.setOpening(a, o, by)
		case verb.Isolate:
			l.isolated.put(o.Name, &isolation{typed: o.Typed, on: true, proved: true, by: by})
			l.everSafe = true
		case verb.Mark:
			l.marks.put(o.Name, &named{o.Typed, by, false})
		case verb.Start:
			l.waits.put(o.Name, &named{o.Typed, by, true})
		}
	}
}

func (l *ledger) groupOf(o *procedure.Object) *group {
	if o.Part == nil {
		return nil
	}
	return l.group(o.Part)
}

func (l *ledger) wantedOf(o *procedure.Object, g *group, a *procedure.Act) int {
	if o.Count == procedure.Numbered {
		return o.N
	}
	return g.part.Qty
}

func (l *ledger) setPart(a *procedure.Act, o *procedure.Object, g *group, by deed) {
	k := l.wantedOf(o, g, a)
	g.touched, g.last, g.took = true, by, by
	switch a.Verb.Effect {
	case verb.Remove:
		g.remove(k)
		l.holders(g, func(f *group, clamps bool) {
			f.touched, f.last, f.took = true, by, by
			along := holding(g.off(), g, f)
			if clamps {
				f.regrip(along, slack, nil)
				return
			}
			f.remove(along - f.off())
		})
	case verb.Loosen:
		g.regrip(k, slack, nil)
	case verb.Snug:
		g.regrip(k, hand, nil)
	}
}

func (l *ledger) setOpening(a *procedure.Act, o *procedure.Object, by handled) {
	opens := l.opener(a.Verb)
	x := &opening{name: o.Name, typed: o.Typed, opens: opens, pair: opens.Pair, open: a.Verb.Effect == verb.Open, by: by, raisedBy: by}
	x.first = !x.open && opens.Pair == verb.Either // closed by an earlier job: open in the whole machine
	x.free = !x.open && opens.Pair == verb.Lift
	if opens.Pair == verb.Counted && x.open {
		x.n = max(o.N, 1)
		x.most = x.n
		x.bulk = o.Count != procedure.Numbered
	}
	l.openings.put(openKey(opens, o.Name), x)
	l.supportsAfter(x, opens)
}
