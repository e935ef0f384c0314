package sheet

import "refitcard/render/document"

// act is an act on its way to the page: its words with what stands at their right or, on narrow paper, below them.
type act struct {
	*document.Act
	write []document.MeasureBox // places to write in, those that stand beside it
	words passage
	under []passage // lines below it
	n     int       // lines in all
	rise  float64   // from its top to its first baseline, in mm
	text  float64   // height of the words, and of the box to tick beside them
	boxes boxGrid
}

// boxGrid says how the places to write in are laid out: in rows, the last column flush right.
type boxGrid struct{ columns, rows int }

// boxGap is the white between two boxes to write in, in mm.
const boxGap = 1.5

func (b boxGrid) height() float64 { return float64(b.rows)*(measureHigh+boxGap) - boxGap }

// boxesOf puts boxes into as few rows as fit, each as long as the others. On wide paper they stand in the value column.
func (l *layout) boxesOf(n int) boxGrid {
	if n == 0 {
		return boxGrid{}
	}
	per := 1
	if l.grid.narrow {
		per = max(int((l.grid.live+between)/(l.grid.value.w+between)), 1)
	}
	rows := (n + per - 1) / per
	return boxGrid{(n + rows - 1) / rows, rows}
}

// actOf measures an act.
func (l *layout) actOf(a *document.Act) act {
	x := act{Act: a, write: a.Boxes, words: l.set.of(a.Runs).at(l.m.s, l.grid.text), boxes: l.boxesOf(len(a.Boxes))}
	x.n = x.words.n
	if len(a.Lines) > 0 {
		x.under = make([]passage, 0, len(a.Lines))
	}
	for _, s := range a.Lines {
		u := l.set.plain(Regular, s).at(l.m.s, l.grid.text)
		x.under = append(x.under, u)
		x.n += u.n
	}
	x.rise = l.grid.tick/2 + l.m.cap/2
	if !l.grid.narrow {
		if a.Torque != nil {
			x.rise = max(x.rise, 1+2*l.m.u+capHeight(l.m.figure))
		}
		if len(a.Boxes) > 0 {
			x.rise = max(x.rise, measureHigh/2+l.m.cap/2)
		}
	}
	x.text = max(x.rise+float64(x.n-1)*l.m.lead+below(l.m.s)*0.8, x.rise-l.m.cap/2+l.grid.tick/2)
	return x
}

// high is the height of an act with its boxes.
func (l *layout) high(x *act) float64 {
	h := x.text
	switch {
	case l.grid.narrow && x.Torque != nil:
		h = x.text + boxGap + l.torqueHeight(x.Torque)
	case l.grid.narrow && len(x.write) > 0:
		h = x.text + boxGap + x.boxes.height()
	case !l.grid.narrow:
		if x.Torque != nil {
			h = max(h, x.rise-capHeight(l.m.figure)-2*l.m.u+l.torqueHeight(x.Torque))
		}
		h = max(h, x.rise-l.m.cap/2-measureHigh/2+x.boxes.height())
	}
	return h
}

// act adds the piece of one act, and those of its passes and figures. Boxes to write in for which there is no room, in mm, go on
// over the page.
func (l *layout) act(ps []piece, a *document.Act, room float64) []piece {
	switch {
	case a.Hold != nil:
		return append(ps, l.hold(*a.Hold))
	case a.Handover != nil:
		return l.handover(ps, *a.Handover, room)
	}
	x := l.actOf(a)
	for least := x.boxes.columns; len(x.write) > least && l.high(&x) > room; x.boxes.rows-- {
		x.write = x.write[:(x.boxes.rows-1)*x.boxes.columns]
	}
	rest := a.Boxes[len(x.write):]
	p := piece{name: "act", gapA: 2.3 * l.m.u, h: l.high(&x), base: x.rise}
	if !l.measuring {
		x := x // a copy that outlives this call
		p.draw = func(c *canvas, y float64) { l.drawAct(c, &x, y) }
	}
	ps = append(ps, p)
	for from := 0; from < len(rest); from += x.boxes.columns {
		ps = append(ps, l.moreBoxes(rest[from:min(from+x.boxes.columns, len(rest))], x.boxes.columns))
	}
	if a.Passes != nil {
		ps = append(ps, l.passes(*a.Passes, l.room()-l.m.lead-3.6*l.m.u)...)
	}
	for _, f := range a.Figures {
		p := l.figure(f)
		p.seam = true
		ps = append(ps, p)
	}
	return ps
}

func (l *layout) drawAct(c *canvas, x *act, y float64) {
	base := y + x.rise
	if x.Tick {
		c.tick(l.grid.tickX, base-l.m.cap/2-l.grid.tick/2, l.grid.tick)
	}
	c.box("act", l.grid.textX, base-l.m.cap, l.grid.text, l.m.cap+float64(x.n-1)*l.m.lead, x.words.text.text())
	c.lines(x.words.lines(), ink{size: l.m.s}, l.grid.textX, base, l.m.lead)
	at := base + float64(x.words.n)*l.m.lead
	for _, u := range x.under {
		c.lines(u.lines(), ink{size: l.m.s}, l.grid.textX, at, l.m.lead)
		at += float64(u.n) * l.m.lead
	}
	boxBase, top := base, base-l.m.cap/2-measureHigh/2
	if l.grid.narrow {
		top = y + x.text + boxGap
		boxBase = top + 2*l.m.u + capHeight(l.m.figure)
	}
	if x.Torque != nil {
		l.torqueBox(c, *x.Torque, boxBase)
	}
	l.boxRows(c, x.write, x.boxes.columns, top)
}

// boxRows draws places to write in, in rows of so many columns.
func (l *layout) boxRows(c *canvas, all []document.MeasureBox, columns int, top float64) {
	for i, b := range all {
		left := columns - 1 - i%columns // columns between it and the right edge
		v := l.grid.value
		v.x -= float64(left) * (v.w + between)
		l.measureBox(c, b, v, top+float64(i/columns)*(measureHigh+boxGap))
	}
}

// moreBoxes is a further row of places to write in.
func (l *layout) moreBoxes(row []document.MeasureBox, columns int) piece {
	return piece{name: "boxes", seam: true, gapA: boxGap, h: measureHigh, draw: func(c *canvas, y float64) { l.boxRows(c, row, columns, y) }}
}
