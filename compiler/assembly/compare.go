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
			l.branches(first, g.part.Name.Value, a, b, g.last)
			return
		}
	}
	for _, k := range unionKeys(l.openings, other.openings) {
		a, b := openWord(l.openings[k]), openWord(other.openings[k])
		if a != b {
			x := l.openings[k]
			if x == nil {
				x = other.openings[k]
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
	for _, k := range unionKeys(l.isolated, other.isolated) {
		a, b := l.isolated[k] != nil && l.isolated[k].on, other.isolated[k] != nil && other.isolated[k].on
		if a != b {
			x := l.isolated[k]
			if x == nil {
				x = other.isolated[k]
			}
			l.branches(first, x.typed, isolatedWord(a), isolatedWord(b), x.by)
			return
		}
	}
	for _, k := range unionKeys(l.waits, other.waits) {
		a, b := l.waits[k] != nil && l.waits[k].open, other.waits[k] != nil && other.waits[k].open
		if a != b {
			x := l.waits[k]
			if x == nil {
				x = other.waits[k]
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

func unionKeys[V any](a, b map[string]V) []string {
	if len(a)+len(b) == 0 {
		return nil
	}
	keys := sortedKeys(a)
	for _, k := range sortedKeys(b) {
		if _, ok := a[k]; !ok {
			keys = append(keys, k)
		}
	}
	return keys
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
