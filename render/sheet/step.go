package sheet

import (
	"fmt"

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
	}
	for i := panels; i < len(ps); i++ {
		ps[i].keep, ps[i].step = hard, b.Name
	}
	from := len(ps)
	for i, a := range b.Acts {
		group := l.act(a)
		for k := range group {
			group[k].step = b.Name
			group[k].keep = l.actKeep(i, len(b.Acts))
			if k+1 < len(group) {
				group[k].keep = hard
				if group[k+1].seam {
					group[k].keep = soft
				}
			}
			if group[k].seam {
				group[k].again = l.fitting(group[k], l.repeated(b, a), l.continued(b), l.continued(b)[:1])
			}
		}
		if i > 0 {
			group[0].again = l.fitting(group[0], l.continued(b), l.continued(b)[:1])
		}
		ps = append(ps, group...)
	}
	if from == len(ps) && len(ps) == 0 {
		return nil
	}
	ps[len(ps)-1].keep = free
	l.numbered(&ps[panels], b.Name, b.Condition.Takes)
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
// needs it while working.
func (l *layout) numbered(p *piece, name, takes string) {
	draw, base := p.draw, p.base
	if base == 0 {
		base = l.m.cap
	}
	p.draw = func(c *canvas, y float64) {
		c.box("step", 0, y, l.grid.tickX, l.m.cap, name)
		c.words(ink{face: Bold, size: l.numberSize(name, p.indent)}, p.indent, y+base, name)
		if takes != "" {
			size := leastSize
			for size > 6 && textWidth(Regular, takes, size) > l.grid.tickX-p.indent-0.4 {
				size -= 0.25
			}
			c.words(ink{size: size}, 0, y+base+1.5+capHeight(size), takes)
		}
		draw(c, y)
	}
}

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

// continued is what stands above an act that opens a page: the number, the word, and the step's messages again.
func (l *layout) continued(b document.Step) []piece {
	head := piece{name: "continued", step: b.Name, h: l.m.cap + below(l.m.s), keep: hard, draw: func(c *canvas, y float64) {
		c.box("step", 0, y, l.grid.tickX, l.m.cap, b.Name+" continued")
		c.words(ink{face: Bold, size: l.numberSize(b.Name, 0)}, 0, y+l.m.cap, b.Name)
		c.words(ink{size: l.m.s}, l.grid.textX, y+l.m.cap, "continued")
	}}
	all := []piece{head}
	for _, p := range b.Panels {
		all = append(all, l.panel(p))
	}
	return all
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

// repeated is what stands above passes or a drawing that open a page: the act again, without its box to tick.
func (l *layout) repeated(b document.Step, a document.Act) []piece {
	a.Tick, a.Passes, a.Figures, a.Boxes = false, nil, nil, nil
	again := l.act(a)[0]
	again.step = b.Name
	return append(l.continued(b), again)
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
	var broken [][]line
	rows := 0
	for i, s := range lines {
		room := l.grid.text
		if i == 0 {
			room -= need
		}
		ls := l.set.plain(Bold, s).lines(l.m.s, room)
		broken = append(broken, ls)
		rows += len(ls)
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
			c.lines(ls, ink{size: l.m.s}, l.grid.textX, at, l.m.lead)
			at += float64(len(ls)) * l.m.lead
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
	lines := l.set.of(a.Runs).lines(l.m.s, width)
	var under [][]line
	for _, s := range a.Lines {
		under = append(under, l.set.plain(Regular, s).lines(l.m.s, width))
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
	n := len(lines)
	for _, u := range under {
		n += len(u)
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
		c.box("act", l.grid.textX, base-l.m.cap, width, l.m.cap+float64(n-1)*l.m.lead, l.set.of(a.Runs).text)
		c.lines(lines, ink{size: l.m.s}, l.grid.textX, base, l.m.lead)
		at := base + float64(len(lines))*l.m.lead
		for _, u := range under {
			c.lines(u, ink{size: l.m.s}, l.grid.textX, at, l.m.lead)
			at += float64(len(u)) * l.m.lead
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

// torqueHeight is how high the box of a torque is.
func (l *layout) torqueHeight(b *document.TorqueBox) float64 {
	if b == nil {
		return 0
	}
	h := 4 * l.m.u
	if b.Figure != "" {
		h += capHeight(l.m.figure)
	}
	if b.Second != "" {
		h += 1.9*l.m.u + capHeight(l.m.second)
	}
	for _, s := range []string{b.Angle, b.Dial} {
		if s != "" {
			h += 1.9*l.m.u + l.m.cap
		}
	}
	return h
}

// torqueBox fills the value column; its large baseline is the act's. Figure ends and unit begins stand on one axis.
func (l *layout) torqueBox(c *canvas, b document.TorqueBox, base float64) {
	v := l.grid.value
	h := l.torqueHeight(&b)
	top := base - capHeight(l.m.figure) - 2*l.m.u
	c.box("torque", v.x, top, v.w, h, b.Figure+" "+b.Unit)
	c.frame(v.x, top, v.w, h, 2)
	axis := v.right() - 2.8 - textWidth(Bold, "lbf·ft", l.m.unit)
	size := l.m.figure
	for size > 12 && axis-1.2-textWidth(Bold, b.Figure, size) < v.x+1.5 {
		size -= 0.5
	}
	y := top + 2*l.m.u
	if b.Figure != "" {
		y += capHeight(l.m.figure)
		c.wordsRight(ink{face: Bold, size: size}, axis-1.2, y, b.Figure)
		c.words(ink{face: Bold, size: l.m.unit}, axis, y, b.Unit)
		y += 1.9 * l.m.u
	}
	if b.Second != "" {
		y += capHeight(l.m.second)
		c.wordsRight(ink{size: l.m.second}, axis-1.2, y, b.Second)
		c.words(ink{size: l.m.second}, axis, y, b.SecondUnit)
		y += 1.9 * l.m.u
	}
	for _, s := range []string{b.Angle, b.Dial} {
		if s == "" {
			continue
		}
		y += l.m.cap
		c.wordsRight(ink{face: Bold, size: l.m.s}, v.right()-2.8, y, s)
		y += 1.9 * l.m.u
	}
}

// measureHigh is how high a box to write in is: room for a gloved pen, in mm.
const measureHigh = 11.0

// measureBox has the limits at the left, an upright, room to write, and the unit at the right. Where less than 22 mm would be
// left to write in, the limits stand above.
func (l *layout) measureBox(c *canvas, b document.MeasureBox, top float64) {
	v := l.grid.value
	c.frame(v.x, top, v.w, measureHigh, 0.75)
	c.box("measure", v.x, top, v.w, measureHigh, b.Limits+" "+b.Unit)
	mid := top + measureHigh/2
	left := v.x
	if b.Place != "" {
		c.words(ink{size: l.m.label}, v.x+1.2, top+1+capHeight(l.m.label), b.Place)
		left += 4
	}
	unit := textWidth(Regular, b.Unit, l.m.label)
	c.words(ink{size: l.m.label}, v.right()-2-unit, mid+capHeight(l.m.label)/2, b.Unit)
	if b.Limits == "" {
		return
	}
	size := l.m.s
	w := textWidth(Bold, b.Limits, size)
	if v.right()-unit-3-(left+w+4) >= 22*l.grid.value.w/43.5*0.75 {
		c.words(ink{face: Bold, size: size}, left+2, mid+capHeight(size)/2, b.Limits)
		c.upright(left+w+4, top, top+measureHigh, 0.75, Colour{})
		return
	}
	c.words(ink{face: Bold, size: l.m.label}, left+2, top+1+capHeight(l.m.label), b.Limits)
}

// hold stops for another person: two thin frames, never a thick one, which means danger.
func (l *layout) hold(b document.Hold) piece {
	words := "Signs on the record sheet. Then go on."
	if b.Next != "" {
		words = "Signs on the record sheet. Then go on to step " + b.Next + "."
	}
	v := l.grid.value
	room := v.x - l.grid.textX - 2
	who := l.set.plain(Bold, "HOLD for "+b.For)
	if b.Why != "" {
		who = l.set.mixed("HOLD for "+b.For, []document.Run{{Text: b.Why}})
	}
	lines := append(who.lines(l.m.s, room), l.set.plain(Regular, words).lines(l.m.s, room)...)
	block := l.m.cap + float64(len(lines)-1)*l.m.lead
	h := max(19, block+2*4.2)
	first := (h-block)/2 + l.m.cap
	return piece{name: "hold", gapA: 2.3 * l.m.u, h: h, base: first, indent: 3.3, draw: func(c *canvas, y float64) {
		c.box("hold", 0, y, l.grid.live, h, b.For)
		c.frame(-0, y, l.grid.live, h, 0.9)
		c.frame(1.1, y+1.1, l.grid.live-2.2, h-2.2, 0.9)
		l.octagon(c, l.grid.tickX+l.grid.tick/2, y+first-l.m.cap/2, l.grid.tick*0.62)
		c.lines(lines, ink{size: l.m.s}, l.grid.textX, y+first, l.m.lead)
		top := y + (h-13)/2
		c.frame(v.x, top, v.w-3, 13, 0.75)
		c.box("initials", v.x, top, v.w-3, 13, "")
		c.words(ink{size: l.m.label}, v.x+1.5, top+1.4+capHeight(l.m.label), "Initials, time")
	}}
}

func (l *layout) octagon(c *canvas, x, y, r float64) {
	k := r * 0.4142
	c.shape(Colour{}, x-k, y-r, x+k, y-r, x+r, y-k, x+r, y+k, x+k, y+r, x-k, y+r, x-r, y+k, x-r, y-k)
	c.fill(x-0.38*r, y-0.45*r, 0.24*r, 0.9*r, Colour{255, 255, 255})
	c.fill(x+0.14*r, y-0.45*r, 0.24*r, 0.9*r, Colour{255, 255, 255})
}

// handover lists what stands other than in a whole machine, in the frame of a hold.
func (l *layout) handover(b document.Handover) piece {
	room := l.grid.live - l.grid.textX - 4
	var rows [][]line
	n := 1
	for _, k := range b.Lines {
		ls := l.set.mixed(k.Label+":", []document.Run{{Text: k.Words}}).lines(l.m.s, room)
		rows = append(rows, ls)
		n += len(ls)
	}
	h := 6 + l.m.cap + float64(n-1)*l.m.lead + below(l.m.s)
	return piece{name: "handover", gapA: 2.3 * l.m.u, h: h, base: 3 + l.m.cap, indent: 3.3, draw: func(c *canvas, y float64) {
		c.box("handover", 0, y, l.grid.live, h, "")
		c.frame(0, y, l.grid.live, h, 0.9)
		c.frame(1.1, y+1.1, l.grid.live-2.2, h-2.2, 0.9)
		base := y + 3 + l.m.cap
		l.octagon(c, l.grid.tickX+l.grid.tick/2, base-l.m.cap/2, l.grid.tick*0.45)
		c.words(ink{face: Bold, size: l.m.s}, l.grid.textX, base, "HANDOVER: the job may be left here")
		for _, ls := range rows {
			base += l.m.lead
			c.lines(ls, ink{size: l.m.s}, l.grid.textX, base, l.m.lead)
			base += float64(len(ls)-1) * l.m.lead
		}
	}}
}

// passes puts the table of the passes with the drawing beside it; below it on narrow paper, where they may part. Where they
// don't fit under their act they take a page with the act repeated.
func (l *layout) passes(b document.Passes) []piece {
	if len(l.grid.cols) < 4 && b.Layout != nil && len(b.Rows) > 0 {
		table, plan := b, document.Passes{Layout: b.Layout}
		table.Layout = nil
		return append(l.passes(table), l.passes(plan)...)
	}
	rowH := l.grid.tick + 2.6*l.m.u
	tableH := 0.0
	if len(b.Rows) > 0 {
		tableH = capHeight(l.m.table) + 2.5 + float64(len(b.Rows))*rowH
		if b.Below != "" {
			tableH += 2 + capHeight(l.m.caption) + below(l.m.caption)
		}
	}
	x, drawH := 0.0, 0.0
	var d drawn
	if b.Layout != nil {
		room := l.grid.live - l.grid.textX
		x = l.grid.textX
		if len(b.Rows) > 0 {
			x = l.grid.cols[2].x
			room = l.grid.live - x
		}
		d = l.plan(*b.Layout, room)
		drawH = d.h
		x += max((room-d.w)/2, 0)
	}
	return []piece{{name: "passes", seam: true, gapA: 3.6 * l.m.u, h: max(tableH, drawH), draw: func(c *canvas, y float64) {
		if len(b.Rows) > 0 {
			l.passTable(c, b, y, rowH)
		}
		if b.Layout != nil {
			l.drawPlan(c, d, x, y)
		}
	}}}
}

func (l *layout) passTable(c *canvas, b document.Passes, y, rowH float64) {
	left := l.grid.textX
	name := textWidth(Regular, "Pass 10", l.m.s)
	first := left + name + max(18, textWidth(Bold, "100 ", l.m.s*1.07))
	second := first + 17
	head := y + capHeight(l.m.table)
	c.wordsRight(ink{size: l.m.table}, first, head, b.Unit)
	c.wordsRight(ink{size: l.m.table}, second, head, b.SecondUnit)
	c.rule(left, second, head+1.6, 1, Colour{})
	at := head + 2.5
	for i, r := range b.Rows {
		mid := at + rowH/2
		c.tick(l.grid.tickX, mid-l.grid.tick/2, l.grid.tick)
		c.box("pass", left, at, second-left, rowH, fmt.Sprintf("%s %s", r.Name, r.Figure))
		c.words(ink{size: l.m.s}, left, mid+l.m.cap/2, r.Name)
		c.wordsRight(ink{face: Bold, size: 1.07 * l.m.s}, first, mid+l.m.cap/2, r.Figure)
		c.wordsRight(ink{size: l.m.table}, second, mid+l.m.cap/2, r.Second)
		at += rowH
		rule := 0.5
		if i == len(b.Rows)-1 {
			rule = 1
		}
		c.rule(left, second, at, rule, Colour{})
	}
	if b.Below != "" {
		c.words(ink{size: l.m.caption}, left, at+2+capHeight(l.m.caption), b.Below)
	}
}

func (l *layout) drawing(b document.Layout) piece {
	d := l.plan(b, l.grid.text)
	return piece{name: "layout", gapA: 2.3 * l.m.u, h: d.h, draw: func(c *canvas, y float64) {
		l.drawPlan(c, d, l.grid.textX, y)
	}}
}
