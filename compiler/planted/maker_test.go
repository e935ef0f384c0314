package planted_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// maker writes one procedure. All its chances come from one seed.
type maker struct {
	*rand.Rand
	d       *document
	sites   []site // not used yet
	fluid   *fluid
	modules []module
	kinds   []string            // variants; empty: none
	given   map[string][]string // of the front matter: starts, leaves
	heavy   bool                // something needs a hoist
	curing  bool                // a cure runs that somebody has to wait for
}

// module is a piece of the machine that comes apart and goes together on its own.
type module interface {
	strip(w *writer)
	work(w *writer)
	refit(w *writer)
}

// writer fills one stage: it puts sentences into steps, at most three acts in each.
type writer struct {
	m     *maker
	st    *stage
	cur   *step
	apart bool // the next words begin a step of their own
}

func (m *maker) stage(name string) *writer {
	st := &stage{name: name}
	m.d.stages = append(m.d.stages, st)
	return &writer{m: m, st: st}
}

// say puts sentences that belong together into the step at hand, or into a new one.
func (w *writer) say(list ...*sentence) *step {
	more := (&step{sents: list}).acts()
	if w.cur == nil || w.apart || w.cur.acts()+more > 3 || w.m.chance(45) {
		w.cur = &step{}
		w.st.items = append(w.st.items, w.cur)
		w.apart = false
	}
	w.cur.sents = append(w.cur.sents, list...)
	return w.cur
}

// alone puts sentences into a step of their own.
func (w *writer) alone(list ...*sentence) *step {
	w.apart = true
	s := w.say(list...)
	w.apart = true
	return s
}

// put sets a paragraph or a drawing between two steps.
func (w *writer) put(item any) {
	w.st.items = append(w.st.items, item)
	w.apart = true
}

func (m *maker) chance(percent int) bool { return m.IntN(100) < percent }

func pick[T any](m *maker, from ...T) T { return from[m.IntN(len(from))] }

// take draws one out of a list and leaves the others.
func take[T any](m *maker, from *[]T) T {
	i := m.IntN(len(*from))
	x := (*from)[i]
	*from = slices.Delete(slices.Clone(*from), i, i+1)
	return x
}

// toolOf finds a tool in the list, or lists it.
func (m *maker) toolOf(name, detail string) *tool {
	for _, t := range m.d.tools {
		if t.name == name && (detail == "" || t.detail == detail) {
			return t
		}
	}
	t := &tool{name: name, detail: detail}
	m.d.tools = append(m.d.tools, t)
	return t
}

// supplyOf finds a supply in the list, or lists it; its quantity is what the steps spend.
func (m *maker) supplyOf(name, unit, detail string) *supply {
	for _, s := range m.d.supplies {
		if s.name == name {
			return s
		}
	}
	s := &supply{name: name, plural: name + "s", unit: unit, detail: detail}
	m.d.supplies = append(m.d.supplies, s)
	return s
}

// spend makes a tag that uses some of a supply.
func (m *maker) spend(name, unit, detail string, n int) *tag {
	s := m.supplyOf(name, unit, detail)
	s.spent += n
	words := fmt.Sprintf(" %d %s %s", n, unit, name)
	if unit == "" {
		words = fmt.Sprintf(" %d %s", n, s.plural)
		if n == 1 {
			words = " " + name
		}
	}
	return &tag{kind: "supply", verb: "supply", tail: words, sup: s}
}

func (m *maker) use(t *tool) *tag {
	return &tag{kind: "tool", verb: "tool", tool: t, long: m.chance(20)}
}

// act makes a tag in one of the spellings of its verb.
func (m *maker) act(kind string, objs ...*object) *tag {
	verb := kind
	if s := spellings[kind]; len(s) > 0 {
		verb = pick(m, s...)
	}
	return &tag{kind: kind, verb: verb, objs: objs}
}

// words makes a tag whose body is free text.
func (m *maker) words(kind, body string) *tag {
	t := m.act(kind)
	t.tail = " " + body
	return t
}

// thing makes an object that nobody declares.
func thing(name string) *object { return &object{free: name, plural: pluralOf(name), mark: "the "} }

func things(n int, name string) *object {
	return &object{free: name, plural: pluralOf(name), n: n, style: "digits"}
}

// all makes the object for every unit of a row, in one of the ways of counting.
func (m *maker) all(r *row) *object { return m.some(r, r.qty) }

// some makes the object for n units of a row.
func (m *maker) some(r *row, n int) *object {
	o := &object{row: r, n: n, mark: pick(m, "the ", "the ", "")}
	if r.qty == 1 {
		o.n = 0
		return o
	}
	o.style = pick(m, "digits", "digits", "digits", "words")
	if n == r.qty && m.chance(35) {
		o.style = pick(m, "all", "each")
		if n == 2 {
			o.style = "both"
		}
		if n == 2 && m.chance(50) {
			o.style = "of the"
			o.of = 2
		}
	}
	return o
}

// fresh makes it a new one.
func fresh(o *object) *object {
	o.fresh = true
	if o.mark == "the " && o.n == 0 {
		o.mark = "a "
	}
	return o
}

// c makes a clause of texts, tags and tools.
func (m *maker) c(words ...any) clause {
	var c clause
	for _, w := range words {
		switch x := w.(type) {
		case string:
			c = append(c, frag{text: x})
		case *tag:
			c = append(c, frag{tag: x})
		case *tool:
			c = append(c, frag{tag: m.use(x)})
		case clause:
			c = append(c, x...)
		}
	}
	return c
}

// line makes a sentence of one clause.
func (m *maker) line(words ...any) *sentence { return &sentence{clauses: []clause{m.c(words...)}} }

// sentence joins clauses with a joint each.
func (m *maker) sentence(clauses ...clause) *sentence {
	x := &sentence{clauses: clauses}
	for range len(clauses) - 1 {
		x.joints = append(x.joints, pick(m, ", then ", " and ", ", and "))
	}
	return x
}

// row adds a row to the parts table.
func (m *maker) row(r row) *row {
	r.plural = pluralOf(r.name)
	if r.use == "" && m.chance(50) {
		r.use = "reuse"
	}
	if (r.use == "replace" || r.use == "add") && r.number == "" {
		r.number = fmt.Sprintf("MD-%d", 100+m.IntN(900))
	}
	m.d.parts = append(m.d.parts, &r)
	return &r
}
