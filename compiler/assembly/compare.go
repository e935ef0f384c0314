package assembly

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/verb"

	"refitcard/compiler/procedure"
)

// compare reports the first thing that the two ways of a condition leave differently. Not compared: what goes on as needed,
// the age of parts, and for parts that are renewed whether the old one is off or scrapped.
func (l *ledger) compare(other *ledger, first *procedure.Step) {
	for i, g := range l.groups {
		if g == nil || g.part.UpTo {
			continue
		}
		x := other.groups[i]
		if slices.Equal(g.units, x.units) {
			continue
		}
		if a, b := g.summary(), x.summary(); a != b {
			l.branches(first, g.part.Name.Value, a, b, g.last.handled())
			return
		}
	}
	for _, k := range names(l.openings, other.openings) {
		x, y := l.openings.get(k), other.openings.get(k)
		if a, b := openWord(x), openWord(y); a != b {
			if x == nil {
				x = y
			}
			l.branches(first, x.typed, a, b, x.by)
			return
		}
	}
	for _, s := range l.p.Supplies {
		f, is := l.drained(s)
		g, was := other.drained(s)
		if is != was {
			if f == nil {
				f = g
			}
			l.branches(first, s.Name.Value, drainedWord(is), drainedWord(was), f.by)
			return
		}
	}
	for _, k := range names(l.isolated, other.isolated) {
		x, y := l.isolated.get(k), other.isolated.get(k)
		a, b := x != nil && x.on, y != nil && y.on
		if a != b {
			if x == nil {
				x = y
			}
			l.branches(first, x.typed, isolatedWord(a), isolatedWord(b), x.by)
			return
		}
	}
	for _, k := range names(l.waits, other.waits) {
		x, y := l.waits.get(k), other.waits.get(k)
		a, b := x != nil && x.open, y != nil && y.open
		if a != b {
			if x == nil {
				x = y
			}
			l.branches(first, x.typed, waitWord(a), waitWord(b), x.by)
			return
		}
	}
}

// drained gives what is known of a fluid, nil when nothing, and whether it is out.
func (l *ledger) drained(s *procedure.Supply) (*fluid, bool) {
	f := l.fluids[s]
	return f, f != nil && f.drained
}

func waitWord(runs bool) string {
	if runs {
		return "started"
	}
	return "not started"
}

func drainedWord(d bool) string {
	if d {
		return "drained"
	}
	return "filled"
}

func isolatedWord(on bool) string {
	if on {
		return "isolated"
	}
	return "not isolated"
}

func openWord(x *opening) string {
	if x == nil || x.open == x.first {
		return "as it was"
	}
	if x.open {
		return verb.Past(x.opens.Name)
	}
	if len(x.opens.UndoneBy) > 0 {
		return verb.Past(x.opens.UndoneBy[0])
	}
	return "closed"
}

func (l *ledger) branches(first *procedure.Step, thing, a, b string, by handled) {
	c := l.find("refit/branches-differ", first.If.At, []string{thing, a, b}, procedure.Fold(thing))
	c.fault.Related = by.related("differs")
	c.fault.Step = first.Number
}

// summary tells how the units of a part stand, in words that can be compared and printed.
func (g *group) summary() string {
	var parts []string
	add := func(n int, word string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, word))
		}
	}
	if !g.part.Fastener() {
		add(g.gripped(final), "on")
	} else {
		add(g.gripped(final), "tight")
		add(g.gripped(tight), "tightened without the torque")
		add(g.gripped(stage), "short of the torque")
		add(g.gripped(hand), "hand-tight")
		add(g.gripped(in), "in and not tight")
		add(g.gripped(slack), "slack")
	}
	missing := g.part.Qty - g.on()
	if g.part.Use == procedure.Reuse { // what is to go back must not be scrapped; of the others nobody minds
		add(g.scrapped(), "scrapped")
		missing -= g.scrapped()
	}
	add(missing, "off")
	return strings.Join(parts, ", ")
}
