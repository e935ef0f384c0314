package planted_test

import (
	"fmt"
	"strings"
)

// group is the fasteners of one row that hold one part.
type group struct {
	m             *maker
	row           *row
	size          size
	hex           bool // turned by a hexagon outside
	star          bool
	hand          bool    // turned without a tool
	value         float64 // the torque, in the unit
	unit          string
	form          string // how the torque is written: plain, both, range, ±, angle, tag
	degrees       int
	locker        bool // its Spec asks for threadlocker
	offTool, bits *tool
	wrench        *tool
}

// group declares fasteners that hold a part and the tools that turn them.
func (m *maker) group(held *row, name string, qty int) *group {
	g := &group{m: m, size: pick(m, sizes...)}
	r := row{name: name, qty: qty, place: []string{"holds " + held.name}}
	if m.chance(8) {
		g.hand = true
		r.name, r.spec, r.torque = strings.Fields(name)[0]+" thumb screw", pick(m, "M6", "M8"), "hand-tight"
		g.row = m.row(r)
		return g
	}
	length := pick(m, g.size.lengths...)
	g.hex = m.chance(50)
	g.star = !g.hex && g.size.star != "" && m.chance(30)
	head := "socket"
	switch {
	case g.hex:
		head = "hex"
	case g.star:
		head = "hexalobular socket"
	}
	r.spec = g.size.thread + length + " " + g.size.strong + " " + head
	if m.chance(10) {
		g.locker = true
		r.spec += ", threadlocker"
	} else if m.chance(15) {
		r.spec += pick(m, ", zinc", ", dry")
	}
	g.torque(&r)
	g.row = m.row(r)
	g.turnedBy()
	return g
}

// torque draws a value near the usual one and a way to write it.
func (g *group) torque(r *row) {
	m := g.m
	g.unit = "N·m"
	g.value = g.size.torque
	if g.size.us {
		g.unit = "lbf·ft"
	}
	if g.value >= 20 {
		g.value += float64(m.IntN(5) - 2)
	}
	g.form = pick(m, "plain", "plain", "plain", "both", "range", "±", "tag", "angle")
	if g.value < 20 && (g.form == "range" || g.form == "±") {
		g.form = "plain"
	}
	switch g.form {
	case "plain":
		r.torque = fmt.Sprintf("%g %s", g.value, pick(m, g.unit, strings.ReplaceAll(g.unit, "N·m", "Nm")))
	case "both":
		r.torque = inBoth(g.value, g.unit)
	case "range":
		r.torque = fmt.Sprintf("%g%s%g %s", g.value-2, pick(m, "..", "–", " to "), g.value+2, g.unit)
		r.torque = strings.ReplaceAll(r.torque, " to ", "..") // in a table, a range has points
	case "±":
		r.torque = fmt.Sprintf("%g ±2 %s", g.value, g.unit)
	case "angle":
		g.degrees = pick(m, 60, 90)
		r.torque = fmt.Sprintf("%g %s + %d°", g.value, g.unit, g.degrees)
	}
	g.wrench = m.wrenchFor(g.value, g.unit)
}

func (g *group) turnedBy() {
	m := g.m
	switch {
	case g.hex:
		g.bits = m.toolOf(g.size.hex+" socket", "")
		g.offTool = g.bits
		if m.chance(30) {
			g.offTool = m.toolOf(g.size.hex+pick(m, " ring spanner", " open-end wrench"), "")
		} else if m.chance(10) {
			g.offTool = m.toolOf("adjustable wrench", "")
		}
	case g.star:
		g.bits = m.toolOf(g.size.star+" bit socket", "")
		g.offTool = g.bits
	default:
		g.bits = m.toolOf(g.size.key+" hex bit socket", "")
		g.offTool = g.bits
		if m.chance(70) {
			g.offTool = m.toolOf(g.size.key+" hex key", "")
		}
	}
}

// off takes all units off: at once, or in two goes.
func (g *group) off(w *writer) {
	m := g.m
	if n := g.row.qty; n >= 4 && m.chance(25) {
		some := 1 + m.IntN(n-1)
		o := &object{row: g.row, n: some, of: n, style: pick(m, "of", "of the", "digits")}
		w.say(m.line(g.with(m.act("remove", o), g.offTool)))
		rest := &object{row: g.row, n: n - some, style: pick(m, "remaining", "other", "digits")}
		if rest.n == 1 && rest.style == "other" {
			rest.style = "digits"
		}
		if rest.n == 1 && rest.style == "remaining" {
			rest.style = "digits"
		}
		w.say(m.line(g.with(m.act("remove", rest), g.offTool)))
		return
	}
	w.say(m.line(g.with(m.act("remove", m.all(g.row)), g.offTool)))
}

// with adds the tool that turns it to an act.
func (g *group) with(t *tag, turn *tool) clause {
	if g.hand {
		return g.m.c(t, pick(g.m, " by hand", ""))
	}
	return g.m.c(t, " with the ", turn)
}

// in puts some units in, slack.
func (g *group) in(w *writer, o *object) {
	m := g.m
	if g.hand {
		w.say(m.line(m.act("install", o), " hand-tight"))
		return
	}
	var list []*sentence
	if g.locker {
		list = append(list, m.line("put ", m.spend("threadlocker", "mL", "medium", 2), " on the threads"))
	}
	w.say(append(list, m.line(m.act("install", o), pick(m, "", " finger-tight", " by hand")))...)
}

// tight gives all units their torque.
func (g *group) tight(w *writer) {
	if g.hand {
		return
	}
	m := g.m
	t := m.act("torque", m.all(g.row))
	said := fmt.Sprintf(" to %g %s", g.value, g.unit)
	switch {
	case g.form == "tag":
		t.tail = said
	case g.form == "both":
		t.tail = pick(m, "", " to "+inBoth(g.value, g.unit))
	case g.form == "plain" && m.chance(40), g.form == "angle":
		t.tail = said
	case g.form == "range" && m.chance(40):
		t.tail = fmt.Sprintf(" to %g..%g %s", g.value-2, g.value+2, g.unit)
	}
	if g.form == "tag" && m.chance(40) {
		t.tail = " to " + inBoth(g.value, g.unit)
	}
	if n := g.row.qty; n >= 4 && g.row.layout == "" || n >= 4 && m.chance(30) {
		t.tail += pick(m, " crosswise", " crosswise", " from the centre", " in order")
	}
	t.tail += g.passes(t)
	if g.form == "angle" {
		turn := m.act("torque", m.all(g.row))
		turn.tail = fmt.Sprintf(" then %d°", g.degrees)
		if m.chance(30) {
			t.tail = strings.Replace(t.tail, said, fmt.Sprintf("%s then %d°", said, g.degrees), 1)
			w.say(m.line(t, " with the ", g.wrench, " and ", g.bits))
			return
		}
		w.say(m.line(t, " with the ", g.wrench, " and ", g.bits), m.line(turn, " with the ", g.bits))
		return
	}
	if m.chance(50) {
		w.say(m.line("with the ", g.wrench, " and ", g.bits, ", ", t))
		return
	}
	w.say(m.line(t, " with the ", g.wrench, " and ", g.bits))
}

// passes draws passes for a torque with one value.
func (g *group) passes(t *tag) string {
	m := g.m
	if g.row.qty < 4 || g.form == "range" || g.form == "±" || !m.chance(40) {
		return ""
	}
	if m.chance(50) || g.value < 15 {
		return fmt.Sprintf(" in %s passes", pick(m, "2", "3", "two", "three"))
	}
	third := float64(int(g.value / 3))
	return fmt.Sprintf(" in passes of %g, %g%s%g %s", third, 2*third, pick(m, ", ", " and "), g.value, g.unit)
}
