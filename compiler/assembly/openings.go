package assembly

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// opening is one thing that verbs open and close by name.
type opening struct {
	name     string // folded
	typed    string
	opens    *verb.Verb
	pair     verb.Pair
	first    bool // the state before the first act: open
	open     bool
	free     bool // lowered first: it was up before, and may end up or down
	n, most  int  // of counted pairs: how many are in, and how many were put in altogether
	by       handled
	raisedBy handled
	workAt   *handled // the first work since it was raised, with nothing that supports it
	bulk     bool     // a plural without a count: closing it closes all
}

// named is a thing by name with the act that began it.
type named struct {
	typed string
	by    handled
	open  bool
}

func openKey(v *verb.Verb, name string) string { return v.Name + "\x00" + name }

// opener gives the verb of a pair that opens it.
func (l *ledger) opener(v *verb.Verb) *verb.Verb {
	if v.Effect == verb.Open {
		return v
	}
	if o := l.verbs.Opens(v); o != nil {
		return o
	}
	return v
}

// standsOpen tells whether a part is open, raised or disconnected by name.
func (l *ledger) standsOpen(name string) bool {
	for _, t := range l.openings {
		o := t.is
		if o.name == name && o.open && (o.pair == verb.Either || o.pair == verb.Lift) {
			return true
		}
	}
	return false
}

// turn opens or closes one thing.
func (l *ledger) turn(o *procedure.Object) {
	v := l.act.Verb
	opens := l.opener(v)
	key := openKey(opens, o.Name)
	x := l.openings.get(key)
	known := x != nil
	if o.Part != nil {
		if g := l.group(o.Part); g != nil {
			g.touched = true
		}
	}
	switch opens.Pair {
	case verb.Counted:
		l.counted(o, x, opens, key)
		return
	case verb.Support:
		if v.Effect == verb.Close && !known {
			l.neverOpened(o, opens)
			return
		}
	}
	if !known {
		x = &opening{name: o.Name, typed: o.Typed, opens: opens, pair: opens.Pair, first: v.Effect == verb.Close}
		if v.Effect == verb.Close && opens.Pair == verb.Lift {
			x.first, x.free = false, true
		}
		l.openings.put(key, x)
	}
	was := x.open
	x.open = v.Effect == verb.Open
	if was != x.open || !known {
		x.by = l.here(o)
	}
	l.supportsAfter(x, opens)
	l.bled(o, v)
}

// supportsAfter follows what is raised and what bears it.
func (l *ledger) supportsAfter(x *opening, opens *verb.Verb) {
	switch opens.Pair {
	case verb.Support:
		l.supports = 0
		for _, t := range l.openings {
			if t.is.pair == verb.Support && t.is.open {
				l.supports++
			}
		}
	case verb.Lift:
		if x.open {
			x.workAt, x.raisedBy = nil, x.by
			return
		}
		if w := x.workAt; w != nil {
			c := l.find("energy/raised-unsupported", w.at, []string{x.typed, w.act.Verb.Name}, x.name)
			c.fault.Related = x.raisedBy.related("raised")
			if w.step != nil {
				c.fault.Step = w.step.Number
			}
			x.workAt = nil
		}
	}
}

// worked is told of every act that counts as work.
func (l *ledger) worked(a *procedure.Act) {
	h := handled{inner(a), l.step, a}
	if l.firstWork.act == nil {
		l.firstWork = h
	}
	l.lastWork = h
	l.cleared = false
	if l.supports == 0 && len(l.openings) > 0 {
		for _, t := range l.openings {
			if x := t.is; x.pair == verb.Lift && x.open && x.workAt == nil {
				first := h
				x.workAt = &first
			}
		}
	}
	l.workedUnsafe(a, h)
}

func (l *ledger) sortedOpenings() []*opening {
	if len(l.openings) == 0 {
		return nil
	}
	all := make([]*opening, len(l.openings))
	for i, t := range l.openings {
		all[i] = t.is
	}
	return all
}

// counted caps and inserts by count; a plural without a count is all of them.
func (l *ledger) counted(o *procedure.Object, x *opening, opens *verb.Verb, key string) {
	n := 1
	bulk := o.Count != procedure.Numbered && (o.Count != procedure.Bare || procedure.Fold(o.Typed) != o.Name || o.Plural)
	if o.Count == procedure.Numbered {
		n = o.N
	}
	if l.act.Verb.Effect == verb.Open {
		if x == nil {
			x = &opening{name: o.Name, typed: o.Typed, opens: opens, pair: opens.Pair}
			l.openings.put(key, x)
		}
		x.n, x.most, x.bulk = x.n+n, x.most+n, x.bulk || bulk
		x.open, x.by = true, l.here(o)
		return
	}
	switch {
	case x == nil:
		l.neverOpened(o, opens)
	case o.Count != procedure.Numbered || x.bulk:
		x.n, x.open = 0, false
	case n > x.n:
		c := l.find("part/too-many", l.at(o), []string{o.Typed, ""}, o.Name)
		c.fault.Counts = []int{n, x.n, x.most}
		c.fault.Related = x.by.related("done")
		x.n, x.open = 0, false
	default:
		x.n -= n
		x.open = x.n > 0
	}
}

// neverOpened reports what is undone and was never done; an open thing of nearly that name is offered and folded in.
func (l *ledger) neverOpened(o *procedure.Object, opens *verb.Verb) {
	var offer *opening
	for _, x := range l.sortedOpenings() {
		if x.opens.Name == opens.Name && x.open && alike(x.name, o.Name) {
			offer = x
		}
	}
	words := []string{o.Typed, l.act.Verb.Name, opens.Name, ""}
	names := []string{o.Name}
	if offer != nil {
		words[3] = offer.typed
		names = append(names, offer.name)
	}
	c := l.find("refit/never-opened", l.at(o), words, names...)
	if offer != nil {
		c.fault.Related = offer.by.related("done")
	}
}

// alike tells whether two names may mean one thing: two letters apart, or one is the tail of the other.
func alike(a, b string) bool {
	if a == b {
		return false
	}
	if strings.HasSuffix(a, " "+b) || strings.HasSuffix(b, " "+a) {
		return true
	}
	d := len(a) - len(b)
	return d <= 2 && d >= -2 && verb.Near(a, []string{b}) != "" && min(len(a), len(b)) >= 3
}

func (l *ledger) endSupport(name string) {
	for _, t := range l.openings {
		if x := t.is; x.pair == verb.Support && x.name == name && x.open {
			x.open = false
			l.supportsAfter(x, x.opens)
		}
	}
}

// openEnds reports what is not back in the state that it began in.
func (l *ledger) openEnds() {
	wanted := map[string]bool{}
	for _, a := range l.p.Leaves {
		for _, o := range a.Objects {
			wanted[o.Name] = true
		}
	}
	var bad []*opening
	for _, x := range l.sortedOpenings() {
		if x.open != x.first && !wanted[x.name] && !x.free {
			bad = append(bad, x)
		}
	}
	slices.SortStableFunc(bad, func(a, b *opening) int { return a.by.at.Start - b.by.at.Start })
	done := map[*opening]bool{}
	for _, x := range bad {
		if done[x] {
			continue
		}
		done[x] = true
		shut := ""
		if len(x.opens.UndoneBy) > 0 {
			shut = x.opens.UndoneBy[0]
		}
		words := []string{x.typed, x.opens.Name, shut}
		if !x.open { // closed first, and not opened again
			words = []string{x.typed, shut, x.opens.Name}
		}
		names := []string{x.name}
		place, more := x.by, []source.Related(nil)
		for _, y := range bad {
			if !done[y] && y.opens.Name == x.opens.Name && y.open != x.open && alike(x.name, y.name) {
				done[y] = true
				words = append(words, y.typed)
				names = append(names, y.name)
				place, more = y.by, x.by.related(x.opens.Name)
			}
		}
		c := l.find("refit/left-open", place.at, words, names...)
		c.fault.Related, c.act = more, place.act
		if place.step != nil {
			c.fault.Step = place.step.Number
		}
		if x.pair == verb.Counted {
			c.fault.Counts = []int{x.n, x.most}
		}
	}
}

// mark marks and aligns.
func (l *ledger) mark(o *procedure.Object) {
	m := l.marks.get(o.Name)
	if l.act.Verb.Effect == verb.Mark {
		l.marks.put(o.Name, &named{o.Typed, l.here(o), true})
		return
	}
	if m == nil {
		offer := ""
		names := []string{o.Name}
		for _, t := range l.marks {
			if alike(t.name, o.Name) {
				offer = t.is.typed
				names = append(names, t.name)
			}
		}
		l.find("order/align-unmarked", l.at(o), []string{o.Typed, offer}, names...)
		l.marks.put(o.Name, &named{o.Typed, l.here(o), false})
		return
	}
	m.open = false
}

// wait starts and awaits.
func (l *ledger) wait(o *procedure.Object) {
	w := l.waits.get(o.Name)
	if l.act.Verb.Effect == verb.Start {
		l.waits.put(o.Name, &named{o.Typed, l.here(o), true})
		return
	}
	if w == nil {
		offer := ""
		names := []string{o.Name}
		for _, t := range l.waits {
			if t.is.open && (alike(t.name, o.Name) || shareWord(t.name, o.Name)) {
				offer = t.is.typed
				names = append(names, t.name)
			}
		}
		l.find("order/await-unstarted", l.at(o), []string{o.Typed, offer}, names...)
		return
	}
	w.open = false
}

// shareWord tells whether two names have a word of four letters in common.
func shareWord(a, b string) bool {
	for _, w := range strings.Fields(a) {
		if len(w) >= 4 && slices.Contains(strings.Fields(b), w) {
			return true
		}
	}
	return false
}

// put puts a value into a map that is made when something comes into it: most plays have nothing in most of theirs.
func put[K comparable, V any](m *map[K]V, key K, v V) {
	if *m == nil {
		*m = map[K]V{}
	}
	(*m)[key] = v
}
