package planted_test

import (
	"fmt"
	"slices"
)

// cover is a part that closes a place of the machine, with what holds it and what lies behind it.
type cover struct {
	m      *maker
	site   site
	row    *row
	mass   int
	hoist  *tool
	groups []*group
	gasket *row
	inner  []*inner
	within *cover // a cover behind this one
	marked bool
	glue   bool // sealed with a paste that has to cure
	layout *drawing
}

// inner is a part behind a cover, and what is done with it.
type inner struct {
	row  *row
	plan string // out, look, swap, if, scrap
}

func (m *maker) cover(parent *row, depth int) *cover {
	c := &cover{m: m, site: take(m, &m.sites)}
	r := row{name: c.site.cover, qty: 1}
	c.mass = pick(m, 0, 2, 5, 9, 14, 18)
	if m.chance(15) {
		c.mass = 30 + 5*m.IntN(8)
	}
	if c.mass > 0 {
		r.spec = fmt.Sprintf("%d kg", c.mass)
	}
	if parent != nil {
		r.place = append(r.place, pick(m, "behind ", "under ")+parent.name)
	}
	wet := m.fluid != nil && m.chance(50)
	if wet {
		r.place = append(r.place, "seals "+m.fluid.sup.name)
	}
	c.row = m.row(r)
	if c.mass > 25 {
		c.hoist = m.toolOf("hoist", pick(m, "150 kg", "250 kg"))
		m.heavy = true
	}
	c.held()
	if wet || m.chance(50) {
		g := row{name: c.site.short + pick(m, " gasket", " O-ring"), qty: 1, spec: pick(m, "", "nitrile", "paper"), use: "replace", place: []string{"behind " + c.row.name}}
		if wet {
			g.place = append(g.place, "seals "+m.fluid.sup.name)
		}
		c.gasket = m.row(g)
	}
	for _, name := range c.site.inner {
		if m.chance(60) {
			c.inner = append(c.inner, c.lies(name))
		}
	}
	if depth < 2 && len(m.sites) > 0 && m.chance(30) {
		c.within = m.cover(c.row, depth+1)
	}
	c.marked = m.chance(20)
	c.glue = c.gasket == nil && !wet && m.chance(20)
	return c
}

// held draws what holds the cover: one row of fasteners, or two of unlike length with a drawing that tells them apart.
func (c *cover) held() {
	m := c.m
	qty := pick(m, 1, 2, 2, 3, 4, 4, 6, 8, 12)
	name := c.site.short + pick(m, " bolt", " bolt", " screw")
	g := m.group(c.row, name, qty)
	c.groups = []*group{g}
	switch {
	case g.hand || qty < 4:
	case g.form != "tag" && !g.locker && m.chance(20):
		long := *g
		r := *g.row
		r.name = "long " + g.row.name
		r.qty = 2
		r.spec = g.size.thread + g.size.lengths[1] + g.row.spec[len(g.size.thread)+len(lengthOf(g)):]
		g.row.spec = g.size.thread + g.size.lengths[0] + g.row.spec[len(g.size.thread)+len(lengthOf(g)):]
		r.layout, g.row.layout = c.site.cover, c.site.cover
		long.row = m.row(r)
		c.groups = append(c.groups, &long)
		c.layout = &drawing{name: c.site.cover, lines: drawn(g.row.qty, 2, "a", "b")}
		c.layout.lines = append(c.layout.lines, "a = "+g.row.name+", b = "+long.row.name)
	case m.chance(25):
		g.row.layout = c.site.cover
		c.layout = &drawing{name: c.site.cover, lines: drawn(g.row.qty, 0, "o", "")}
	}
}

// lengthOf is the length that stands in the group's Spec.
func lengthOf(g *group) string {
	best := ""
	for _, l := range g.size.lengths {
		if at := g.row.spec[len(g.size.thread):]; len(at) >= len(l) && at[:len(l)] == l && len(l) > len(best) {
			best = l
		}
	}
	return best
}

// drawn puts n signs of one kind and k of another into two rows.
func drawn(n, k int, one, other string) []string {
	var top, bottom string
	for i := range n + k {
		sign := one
		if i < k {
			sign = other
		}
		if i%2 == 0 {
			top += "   " + sign
		} else {
			bottom += "   " + sign
		}
	}
	return []string{top, bottom}
}

func (c *cover) lies(name string) *inner {
	m := c.m
	in := &inner{plan: pick(m, "out", "out", "look", "swap", "if", "scrap", "either")}
	r := row{name: name, qty: pick(m, 1, 1, 1, 2, 3, 4), place: []string{"behind " + c.row.name}}
	switch in.plan {
	case "out":
		r.use = pick(m, "", "replace", "if worn")
	case "swap":
		r.use = pick(m, "replace", "if worn")
	case "if", "scrap", "either":
		r.use = "if worn"
	}
	if n := len(c.inner); n > 0 && c.inner[n-1].plan == "out" && c.inner[n-1].row.qty == 1 && m.chance(50) {
		r.place = append([]string{"behind " + c.inner[n-1].row.name}, r.place...)
	}
	in.row = m.row(r)
	return in
}

func (c *cover) strip(w *writer) {
	m := c.m
	if c.layout != nil && m.chance(50) {
		w.put(c.layout)
		c.layout = nil
	}
	if c.marked {
		w.say(m.line(m.act("mark", &object{row: c.row, mark: "the "}), " against the housing"))
	}
	if len(c.groups) == 2 && m.chance(50) {
		w.say(m.line(m.act("remove", m.all(c.groups[0].row), m.all(c.groups[1].row)), " with the ", c.groups[0].offTool))
	} else {
		for _, g := range c.groups {
			g.off(w)
		}
	}
	off := m.c(m.act("remove", m.all(c.row)))
	if c.hoist != nil {
		off = m.c(off, " with the ", c.hoist)
	}
	switch {
	case c.gasket == nil:
		w.say(m.line(off))
	case m.chance(50) && c.hoist == nil:
		w.say(m.line(m.act("remove", m.all(c.row), m.all(c.gasket))))
	default:
		w.say(m.sentence(off, m.c(m.act("remove", m.all(c.gasket)))))
	}
	if c.gasket != nil && m.chance(20) {
		w.say(m.line(m.act("discard", m.all(c.gasket))))
	}
	for _, in := range c.inner {
		if in.plan == "out" || in.plan == "scrap" || in.plan == "either" {
			w.say(m.line(m.act("remove", m.all(in.row)), pick(m, "", "", " by hand", " from the shaft")))
		}
	}
	if c.within != nil {
		c.within.strip(w)
	}
}

func (c *cover) work(w *writer) {
	m := c.m
	if m.chance(50) {
		towel := m.spend("shop towel", "", "", 1)
		w.say(m.line(m.words("clean", "the "+c.site.clean), " with a ", towel))
	}
	for _, in := range c.inner {
		c.treat(w, in)
	}
	if m.chance(30) {
		gauge := m.toolOf("feeler gauge", "0.05–2 mm")
		low := 1 + m.IntN(4)
		limit := fmt.Sprintf("0.%d..0.%d mm", low, low+2)
		limit += pick(m, "", "", " at 3 places") + ", else call the foreman"
		w.say(m.line(m.words("measure", pick(m, "side gap ", "running gap ", "end float ")+limit), " with the ", gauge))
	}
	if c.within != nil {
		c.within.work(w)
	}
}

// treat does in the open what is done with a part there.
func (c *cover) treat(w *writer, in *inner) {
	m := c.m
	name, is := in.row.name, "is"
	if in.row.qty > 1 {
		name, is = in.row.plural, "are"
	}
	fault := pick(m, "cracked", "worn thin", "bent")
	conditional := func(words string, acts ...*sentence) *step {
		s := w.alone(acts...)
		s.lead = []*tag{m.words("if", words)}
		return s
	}
	switch in.plan {
	case "look":
		w.say(m.line(m.words("check", "the "+name+" "+is+" not "+fault)))
	case "swap":
		w.say(m.line(m.act("replace", m.all(in.row))))
	case "if":
		conditional("the "+name+" "+is+" "+fault, m.line(m.act("replace", m.all(in.row))))
	case "scrap":
		conditional("the "+name+" "+is+" "+fault, m.line(m.act("discard", m.all(in.row))))
	case "either":
		conditional("the "+name+" "+is+" "+fault, m.line(m.act("install", fresh(m.all(in.row)))))
		other := w.alone(m.line(m.act("install", m.all(in.row)), pick(m, "", " again")))
		other.lead = []*tag{{kind: "otherwise", verb: "otherwise"}}
	}
}

func (c *cover) refit(w *writer) {
	m := c.m
	if c.within != nil {
		c.within.refit(w)
	}
	if c.layout != nil {
		w.put(c.layout)
	}
	for _, in := range slices.Backward(c.inner) {
		if in.plan == "out" || in.plan == "scrap" {
			o := m.all(in.row)
			if in.row.use == "replace" {
				o = fresh(o)
			}
			w.say(m.line(m.act("install", o), pick(m, "", "", " by hand", " over the shaft")))
		}
	}
	c.closes(w)
	if len(c.groups) == 2 && c.groups[0].form != "angle" && m.chance(50) {
		c.together(w)
		return
	}
	for _, g := range c.groups {
		g.back(w)
	}
}

// closes puts the cover on, with a new gasket or paste where it has one.
func (c *cover) closes(w *writer) {
	m := c.m
	on := m.c(m.act("install", m.all(c.row)))
	if c.hoist != nil {
		on = m.c(on, " with the ", c.hoist)
	} else {
		on = m.c(on, pick(m, "", "", " over the studs"))
	}
	if c.glue {
		w.say(m.line("spread ", m.spend("flange sealant", "mL", "", 5), " on the rim"))
	}
	switch {
	case c.gasket == nil:
		w.say(m.line(on))
	case m.chance(40):
		if m.chance(30) {
			w.say(m.line(m.words("lubricate", "the "+c.gasket.name), " with ", m.spend("silicone grease", "mL", "", 2)))
		}
		w.say(m.line(m.act("install", fresh(m.all(c.gasket)))))
		w.say(m.line(on))
	default:
		w.say(m.sentence(m.c(m.act("install", fresh(m.all(c.gasket)))), on))
	}
	if c.marked {
		w.say(m.line(m.act("align", &object{row: c.row, mark: "the "}), pick(m, " to its mark", " by the mark")))
	}
	if c.glue {
		cure := m.words("start", "sealant cure, "+pick(m, "20 min", "1 h"))
		if !m.curing { // one at a time
			w.say(m.line(cure))
			m.curing = true
		}
	}
}

// back puts a group in and makes it tight.
func (g *group) back(w *writer) {
	m := g.m
	if n := g.row.qty; n >= 4 && m.chance(20) {
		some := 1 + m.IntN(n-1)
		g.in(w, &object{row: g.row, n: some, style: pick(m, "digits", "words")})
		style := pick(m, "remaining", "other", "digits")
		if n-some == 1 {
			style = "digits"
		}
		g.in(w, &object{row: g.row, n: n - some, style: style})
	} else {
		g.in(w, m.all(g.row))
	}
	g.tight(w)
}

// together torques two rows in one act.
func (c *cover) together(w *writer) {
	m := c.m
	a, b := c.groups[0], c.groups[1]
	w.say(m.line(m.act("install", m.all(a.row), m.all(b.row)), pick(m, "", " finger-tight")))
	t := m.act("torque", m.all(a.row), m.all(b.row))
	t.tail = pick(m, " crosswise", " from the centre", " crosswise in 3 passes")
	w.say(m.line(t, " with the ", a.wrench, " and ", a.bits))
}
