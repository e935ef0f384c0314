package sheet

import (
	"strings"

	"refitcard/render/document"
)

// step makes the pieces of a step: its panels, then a piece an act. After a heading no hairline stands above it.
func (l *layout) step(b document.Step, first bool) []piece {
	var ps []piece
	for _, p := range b.Panels {
		x := l.panel(p)
		x.keep, x.step = hard, b.Name
		ps = append(ps, x)
	}
	panels := len(ps)
	again := append([]piece{l.continued(b)}, ps...)
	for _, k := range b.Before {
		switch k := k.(type) {
		case document.Note:
			ps = append(ps, l.note(k))
		case document.Figure:
			ps = append(ps, l.figure(k))
		case document.Layout:
			ps = append(ps, l.drawing(k))
		case document.Pile:
			ps = append(ps, l.pile(k))
		}
	}
	if b.Condition.Set() {
		ps = append(ps, l.condition(b.Condition))
		ps[len(ps)-1].at = b.At
	}
	for i := panels; i < len(ps); i++ {
		ps[i].keep, ps[i].step = hard, b.Name
	}
	from := len(ps)
	for i, a := range b.Acts {
		group := l.act(a)
		for k := range group {
			group[k].step = b.Name
			if !group[k].at.Known() {
				group[k].at = a.At
			}
			group[k].keep = l.actKeep(i, len(b.Acts))
			if k+1 < len(group) {
				group[k].keep = hard
				if group[k+1].seam {
					group[k].keep = soft
				}
			}
			if group[k].seam {
				group[k].again = l.fitting(group[k], append(again[:len(again):len(again)], l.repeated(b, a)), again, again[:1])
			}
		}
		if i > 0 {
			group[0].again = l.fitting(group[0], again, again[:1])
		}
		ps = append(ps, group...)
	}
	if from == len(ps) && len(ps) == 0 {
		return nil
	}
	ps[len(ps)-1].keep = free
	l.numbered(&ps[panels], b.Name, b.Condition.Takes, panels == len(ps)-1)
	gap := &ps[0]
	gap.gapA = 3 * l.m.u
	if !first {
		gap.rule, gap.gapB = 0.5, 3*l.m.u
	}
	return ps
}

// actKeep holds a step of up to three acts together; a longer one breaks between acts, two at least on each side.
func (l *layout) actKeep(i, n int) keep {
	if n <= 3 {
		return soft
	}
	if i == 0 || i == n-2 {
		return hard
	}
	return free
}

// numbered puts the step's number on the first baseline of its first piece, and the hands-on time small below it: nobody
// needs it while working. Where it is too wide for the numbers' column, its words stand below each other; alone tells that
// the step has no other piece that gives them room.
func (l *layout) numbered(p *piece, name, takes string, alone bool) {
	draw, base := p.draw, p.base
	if base == 0 { // a number is higher than text, and nothing gives it room here
		rise := max(capHeight(l.numberSize(name, p.indent))-l.m.cap, 0)
		base = l.m.cap + rise
		p.h += rise
		inner := draw
		draw = func(c *canvas, y float64) { inner(c, y+rise) }
	}
	timeX := max(p.indent-1, 0) // inside the frame of a hold
	time := l.timeLines(takes, l.grid.tickX-timeX-0.6)
	if low := base + timeDown + capHeight(leastSize) + float64(len(time)-1)*leastSize*1.1*millimetre; alone && len(time) > 0 {
		p.h = max(p.h, low)
	}
	p.draw = func(c *canvas, y float64) {
		c.box("step", 0, y, l.grid.tickX, l.m.cap, name)
		c.words(ink{face: Bold, size: l.numberSize(name, p.indent)}, p.indent, y+base, name)
		if len(time) > 0 {
			c.lines(time, ink{size: leastSize}, timeX, y+base+timeDown+capHeight(leastSize), leastSize*1.1*millimetre)
		}
		draw(c, y)
	}
}

// timeLines puts the hands-on time on one line if that is wide enough, else each word on its own.
func (l *layout) timeLines(takes string, room float64) []line {
	if takes == "" {
		return nil
	}
	one := l.set.plain(Regular, takes).lines(leastSize, 1000)
	if one[0].width <= room {
		return one
	}
	var each []line
	for _, word := range strings.Fields(takes) {
		each = append(each, l.set.plain(Regular, word).lines(leastSize, 1000)...)
	}
	return each
}

// timeDown is the white between a step's number and its hands-on time, in mm.
const timeDown = 1.5

// leastSize is the size in points of what nobody needs while working.
const leastSize = 9.0

// numberSize keeps "12a" clear of the ticks.
func (l *layout) numberSize(name string, indent float64) float64 {
	size := l.m.number
	for size > 10.5 && textWidth(Bold, name, size) > l.grid.tickX-1-indent {
		size -= 0.5
	}
	return size
}

// continued stands above an act that opens a page, and the step's messages below it: the number and the word.
func (l *layout) continued(b document.Step) piece {
	name := b.Name
	return piece{name: "continued", at: b.At, step: name, h: l.m.cap + below(l.m.s), keep: hard, draw: func(c *canvas, y float64) {
		c.box("step", 0, y, l.grid.tickX, l.m.cap, name+" continued")
		c.words(ink{face: Bold, size: l.numberSize(name, 0)}, 0, y+l.m.cap, name)
		c.words(ink{size: l.m.s}, l.grid.textX, y+l.m.cap, "continued")
	}}
}

// fitting gives the first of several headings with which a piece still fits on a page: on small paper there is not room for
// all that should be said again.
func (l *layout) fitting(p piece, headings ...[]piece) []piece {
	for _, again := range headings {
		p.again = again
		if p.opening() <= l.room() {
			return again
		}
	}
	return headings[len(headings)-1]
}

// repeated stands above passes or a drawing that open a page, below what is said again: the act, without its box to tick.
func (l *layout) repeated(b document.Step, a document.Act) piece {
	a.Tick, a.Passes, a.Figures, a.Boxes = false, nil, nil, nil
	again := l.act(a)[0]
	again.step = b.Name
	return again
}

// condition says what governs the step; "not needed" has a small box of its own.
func (l *layout) condition(b document.Condition) piece {
	var lines []string
	if b.If != "" {
		lines = append(lines, "If "+b.If+":")
	}
	if b.Otherwise {
		lines = append(lines, "Otherwise:")
	}
	for _, v := range b.For {
		lines = append(lines, "Only for "+v+":")
	}
	if b.Repeat != "" {
		lines = append(lines, b.Repeat+":")
	}
	small := 5.0
	need := 0.0
	if b.If != "" {
		need = small + 2 + textWidth(Regular, "not needed", l.m.caption) + 4
	}
	var broken []passage
	rows := 0
	for i, s := range lines {
		room := l.grid.text
		if i == 0 {
			room -= need
		}
		ls := l.set.plain(Bold, s).at(l.m.s, room)
		broken = append(broken, ls)
		rows += ls.n
	}
	boxes := 0.0
	if b.Times > 1 {
		boxes = small + 2
	}
	h := max(small, l.m.cap) + float64(rows-1)*l.m.lead + below(l.m.s) + boxes
	base := max(small, l.m.cap)/2 + l.m.cap/2
	return piece{name: "condition", gapA: 2.3 * l.m.u, h: h, base: base, draw: func(c *canvas, y float64) {
		at := y + base
		c.box("condition", l.grid.textX, y, l.grid.text, h, lines[0])
		for _, ls := range broken {
			c.lines(ls.lines(), ink{size: l.m.s}, l.grid.textX, at, l.m.lead)
			at += float64(ls.n) * l.m.lead
		}
		if need > 0 {
			x := l.grid.textX + l.grid.text - need + 4
			c.tick(x, y+base-l.m.cap/2-small/2, small)
			c.words(ink{size: l.m.caption}, x+small+2, y+base, "not needed")
		}
		if b.Times > 1 {
			for i := range min(b.Times, int(l.grid.text/(small+3))) {
				c.tick(l.grid.textX+float64(i)*(small+3), at-l.m.cap, small)
			}
		}
	}}
}

// act makes the piece of one act, and those of its passes and figures.
func (l *layout) act(a document.Act) []piece {
	switch {
	case a.Hold != nil:
		return []piece{l.hold(*a.Hold)}
	case a.Handover != nil:
		return []piece{l.handover(*a.Handover)}
	}
	width := l.grid.text
	words := l.set.of(a.Runs).at(l.m.s, width)
	var under []passage
	for _, s := range a.Lines {
		under = append(under, l.set.plain(Regular, s).at(l.m.s, width))
	}
	rise := l.grid.tick/2 + l.m.cap/2
	torque, boxes := l.torqueHeight(a.Torque), float64(len(a.Boxes))*(measureHigh+1.5)
	if !l.grid.narrow {
		if a.Torque != nil {
			rise = max(rise, 1+2*l.m.u+capHeight(l.m.figure))
		}
		if len(a.Boxes) > 0 {
			rise = max(rise, measureHigh/2+l.m.cap/2)
		}
	}
	n := words.n
	for _, u := range under {
		n += u.n
	}
	text := rise + float64(n-1)*l.m.lead + below(l.m.s)*0.8
	h := max(text, rise-l.m.cap/2+l.grid.tick/2)
	if l.grid.narrow {
		if a.Torque != nil {
			h = text + 1.5 + torque
		}
		if len(a.Boxes) > 0 {
			h = text + 1.5 + boxes
		}
	} else {
		if a.Torque != nil {
			h = max(h, rise-capHeight(l.m.figure)-2*l.m.u+torque)
		}
		h = max(h, rise-l.m.cap/2-measureHigh/2+boxes-1.5)
	}
	p := piece{name: "act", gapA: 2.3 * l.m.u, h: h, base: rise, draw: func(c *canvas, y float64) {
		base := y + rise
		if a.Tick {
			c.tick(l.grid.tickX, base-l.m.cap/2-l.grid.tick/2, l.grid.tick)
		}
		c.box("act", l.grid.textX, base-l.m.cap, width, l.m.cap+float64(n-1)*l.m.lead, words.text.text())
		c.lines(words.lines(), ink{size: l.m.s}, l.grid.textX, base, l.m.lead)
		at := base + float64(words.n)*l.m.lead
		for _, u := range under {
			c.lines(u.lines(), ink{size: l.m.s}, l.grid.textX, at, l.m.lead)
			at += float64(u.n) * l.m.lead
		}
		boxBase := base
		top := base - l.m.cap/2 - measureHigh/2
		if l.grid.narrow {
			boxBase = y + text + 1.5 + 2*l.m.u + capHeight(l.m.figure)
			top = y + text + 1.5
		}
		if a.Torque != nil {
			l.torqueBox(c, *a.Torque, boxBase)
		}
		for i, b := range a.Boxes {
			l.measureBox(c, b, top+float64(i)*(measureHigh+1.5))
		}
	}}
	ps := []piece{p}
	if a.Passes != nil {
		ps = append(ps, l.passes(*a.Passes)...)
	}
	for _, f := range a.Figures {
		ps = append(ps, l.figure(f))
	}
	return ps
}
