package assembly

import (
	"fmt"
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// steps plays steps in order. Steps with the same condition are one branch: at the first the ledger is copied, the copy
// plays on without them, and after the last the two are compared.
func (l *ledger) steps(list []*procedure.Step) {
	for i := 0; i < len(list); i++ {
		s := list[i]
		if !s.If.Set() || !l.has(s) {
			if s.Otherwise.Known() && l.has(s) { // an otherwise without its if: played as it stands
				l.one(s)
				continue
			}
			l.one(s)
			continue
		}
		i = l.branch(list, i)
	}
}

// has tells whether the variant at hand has a step.
func (l *ledger) has(s *procedure.Step) bool {
	return len(s.For) == 0 || l.variant == "" || slices.ContainsFunc(s.For, func(t procedure.Text) bool { return t.Value == l.variant })
}

// branch plays from the first step of a condition to its last, and the otherwise behind it; it gives the last index played.
func (l *ledger) branch(list []*procedure.Step, from int) int {
	words := procedure.Fold(list[from].If.Value)
	last := from
	for i := from; i < len(list); i++ {
		if list[i].If.Set() && procedure.Fold(list[i].If.Value) == words {
			last = i
		}
	}
	other := l.clone()
	for i := from; i <= last; i++ {
		s := list[i]
		if s.If.Set() && procedure.Fold(s.If.Value) == words {
			l.one(s)
			continue
		}
		l.one(s)
		other.one(s)
	}
	end := last
	if last+1 < len(list) && list[last+1].Otherwise.Known() {
		end = last + 1
		before := len(other.candidates)
		other.clock, other.silent = l.clock, false
		if l.has(list[end]) {
			other.one(list[end])
		}
		for _, c := range other.candidates[before:] { // what is wrong in the other way is wrong all the same
			if c.late == nil {
				l.candidates = append(l.candidates, c)
			}
		}
		l.clock = other.clock
		l.spentOther(other)
	}
	l.compare(other, list[from])
	return end
}

// spentOther takes over what the other way uses of supplies that this way leaves alone.
func (l *ledger) spentOther(other *ledger) {
	for _, x := range other.play.Spent {
		mine := l.used(x.Supply)
		if mine.First == nil {
			mine.First = x.First
		}
		mine.Acts = append(mine.Acts, x.Acts...)
		mine.Pieces = max(mine.Pieces, x.Pieces)
		if x.Amount != nil && (mine.Amount == nil || mine.Amount.Cmp(x.Amount) < 0) {
			mine.Amount, mine.Unit = x.Amount, x.Unit
		}
	}
	for i, g := range other.groups {
		if g != nil && g.touched {
			l.groups[i].touched = true
		}
	}
}

// one plays one step with its repeats and sub-steps.
func (l *ledger) one(s *procedure.Step) {
	if !l.has(s) {
		return
	}
	switch {
	case s.Repeat.Until != "":
		l.round(s)
		l.again(s)
	case s.Repeat.Times > 1:
		before := len(l.candidates)
		for range min(s.Repeat.Times, 100) {
			l.round(s)
		}
		l.once(before)
	default:
		l.round(s)
	}
	if !l.silent && (l.trace || s.Handover.Known()) {
		l.play.After = append(l.play.After, l.state(s))
	}
}

func (l *ledger) round(s *procedure.Step) {
	outer := l.step
	l.step = s
	clear(l.spentStep)
	for _, a := range s.Acts {
		l.apply(a)
	}
	l.steps(s.Steps)
	l.step = outer
}

// once drops what a repeated step found a second time.
func (l *ledger) once(from int) {
	seen := map[string]bool{}
	kept := l.candidates[:from]
	for _, c := range l.candidates[from:] {
		key := fmt.Sprint(c.fault.Name, c.fault.At.Start, c.fault.Thing)
		if !seen[key] {
			seen[key] = true
			kept = append(kept, c)
		}
	}
	l.candidates = kept
}

// again plays a step a second time on a copy: what can't be done twice contradicts "repeat until".
func (l *ledger) again(s *procedure.Step) {
	copied := l.clone()
	before := len(copied.candidates)
	copied.round(s)
	for _, c := range copied.candidates[before:] {
		if c.late != nil || c.fault.Name == "energy/restored-early" {
			continue
		}
		f := l.find("refit/branches-differ", s.Repeat.At, []string{c.fault.Thing, "", "", "repeat"}, c.names...)
		f.fault.Related = []source.Related{{At: c.fault.At, Words: "second time"}}
		f.fault.Step = s.Number
		return
	}
}

// compare reports the first thing that the two ways of a condition leave differently. Not compared: what goes on as needed,
// the age of parts, and for parts that are renewed whether the old one is off or scrapped.
func (l *ledger) compare(other *ledger, first *procedure.Step) {
	for i, g := range l.groups {
		if g == nil || g.part.UpTo {
			continue
		}
		a, b := g.summary(), other.groups[i].summary()
		if a != b {
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
	for s, f := range l.fluids {
		if was, ok := other.fluids[s]; f.drained != (ok && was.drained) {
			l.branches(first, s.Name.Value, drainedWord(f.drained), drainedWord(!f.drained), f.by)
			return
		}
	}
	for s, f := range other.fluids {
		if _, ok := l.fluids[s]; !ok && f.drained {
			l.branches(first, s.Name.Value, drainedWord(false), drainedWord(true), f.by)
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
	add(missing, "off")
	return join(parts)
}

func join(parts []string) string {
	s := ""
	for i, p := range parts {
		if i > 0 {
			s += ", "
		}
		s += p
	}
	return s
}

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
				l.setPart(a, o, g, by)
			}
		case verb.Install:
			if g := l.groupOf(o); g != nil {
				g.install(l.wantedOf(o, g, a), o.New)
				g.last, g.touched = by, true
			}
		case verb.Drain:
			if o.Supply != nil {
				f := l.fluid(o.Supply)
				f.drained, f.by = true, by
			}
		case verb.Open, verb.Close:
			l.setOpening(a, o, by)
		case verb.Isolate:
			l.isolated[o.Name] = &isolation{typed: o.Typed, on: true, proved: true, by: by}
			l.everSafe = true
		case verb.Mark:
			l.marks[o.Name] = &named{o.Typed, by, false}
		case verb.Start:
			l.waits[o.Name] = &named{o.Typed, by, true}
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

func (l *ledger) setPart(a *procedure.Act, o *procedure.Object, g *group, by handled) {
	k := l.wantedOf(o, g, a)
	g.touched, g.last, g.took = true, by, by
	switch a.Verb.Effect {
	case verb.Remove:
		g.remove(k)
		if k < g.part.Qty {
			return
		}
		l.holders(g, func(f *group, clamps bool) {
			f.touched, f.last, f.took = true, by, by
			if clamps {
				f.regrip(f.on(), slack, nil)
				return
			}
			f.remove(f.on())
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
	x.first = false
	if opens.Pair == verb.Counted && x.open {
		x.n = max(o.N, 1)
		x.most = x.n
		x.bulk = o.Count != procedure.Numbered
	}
	l.openings[openKey(opens, o.Name)] = x
	l.supportsAfter(x, opens)
}
