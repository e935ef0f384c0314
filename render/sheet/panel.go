package sheet

import "refitcard/render/document"

// message is a safety message on its way to the page: word and triangle in a cell at the left or in a band above, at the right or
// below them the hazard, its consequence and what to do. Measures are in mm.
type message struct {
	signal      string
	border      float64 // pt
	cell, band  float64 // width of the cell, height of the band: one of them is 0
	x           float64 // of the words
	text, avoid passage
	indent      float64 // of what to do, behind its pointer
	inner, h    float64 // height of the words, and of the whole
}

// borderOf is the pen of the frame in points: the level is told by it, by the word and by the triangle.
func borderOf(signal string) float64 {
	switch signal {
	case "DANGER":
		return 5
	case "WARNING":
		return 3.5
	case "CAUTION":
		return 2
	case "NOTICE":
		return 1
	}
	return 0
}

// messageOf measures a safety message with its word in a cell, or in a band above.
func (l *layout) messageOf(b document.Panel, banded bool) message {
	m := message{signal: b.Signal, border: borderOf(b.Signal), cell: min(40.6*max(l.m.s/12.8, 0.85), l.grid.live*0.4)}
	edge := m.border * millimetre
	pad := 2.4*l.m.u + edge
	if banded {
		m.cell, m.band = 0, 2.3*l.m.cap+2*1.2+edge
	}
	m.x = m.cell + 2.4*l.m.u + 1
	m.indent = 3.2 * max(l.m.s/12.8, 0.8)
	width := l.grid.live - m.x - pad
	m.text = l.set.hazard(b).at(l.m.s, width)
	m.avoid = l.set.of(b.Avoid).at(l.m.s, width-m.indent)
	m.inner = l.m.cap + float64(m.text.n+m.avoid.n-1)*l.m.lead + below(l.m.s)*0.6
	m.h = m.inner + 2*pad + m.band
	if !banded {
		m.h = max(m.h, 2.3*l.m.cap+2*pad)
	}
	return m
}

// panel is a safety message, full width. On narrow paper its word stands above; where paper is so low that every line counts, it
// stands where it takes less height.
func (l *layout) panel(b document.Panel) piece {
	m := l.messageOf(b, l.grid.narrow)
	if l.grid.narrow && l.grid.h < lowPaper {
		if beside := l.messageOf(b, false); beside.h < m.h {
			m = beside
		}
	}
	p := piece{name: b.Signal, at: b.At, gapA: 2.2 * l.m.u, h: m.h + 0.8*l.m.u}
	if !l.measuring {
		m := m // a copy that outlives this call
		p.draw = func(c *canvas, y float64) { l.message(c, &m, y) }
	}
	return p
}

// message draws a safety message.
func (l *layout) message(c *canvas, m *message, y float64) {
	c.box("panel "+m.signal, 0, y, l.grid.live, m.h, "")
	l.signal(c, m, y)
	c.op(Rect{X: c.left, Y: y, W: l.grid.live, H: m.h, Stroke: m.border, Colour: l.borderColour(m.signal)})
	base := y + m.band + (m.h-m.band-m.inner)/2 + l.m.cap
	c.lines(m.text.lines(), ink{size: l.m.s}, m.x, base, l.m.lead)
	base += float64(m.text.n) * l.m.lead
	if m.avoid.n > 0 {
		c.pointer(m.x, base, l.m.cap)
		c.lines(m.avoid.lines(), ink{size: l.m.s}, m.x+m.indent, base, l.m.lead)
	}
}

// lowPaper is the height in mm below which a page has room for a message and its act only where both are short: A6 on its side.
const lowPaper = 120

func (l *layout) borderColour(signal string) Colour {
	if l.opt.Colour && signal == "NOTICE" {
		return Colour{0, 114, 206}
	}
	return Colour{}
}

// signalFill is the cell's colour: black, grey or white, told apart without colour; on colour the approximations of ANSI
// Z535.1 (the standard gives Munsell notations).
func (l *layout) signalFill(signal string) (fill, word Colour, filled bool) {
	white := Colour{255, 255, 255}
	switch {
	case signal == "DANGER" && l.opt.Colour:
		return Colour{200, 16, 46}, white, true
	case signal == "DANGER":
		return Colour{}, white, true
	case signal == "WARNING" && l.opt.Colour:
		return Colour{229, 114, 0}, Colour{}, true
	case signal == "WARNING":
		return Grey(0.8), Colour{}, true
	case signal == "CAUTION" && l.opt.Colour:
		return Colour{255, 209, 0}, Colour{}, true
	case signal == "NOTICE" && l.opt.Colour:
		return white, Colour{0, 114, 206}, false
	}
	return white, Colour{}, false
}

// signal draws the cell with the triangle and the word.
func (l *layout) signal(c *canvas, m *message, y float64) {
	signal := m.signal
	fill, word, filled := l.signalFill(signal)
	w, ch := m.cell, m.h
	if m.band > 0 {
		w, ch = l.grid.live, m.band
	}
	if filled {
		c.fill(0, y, w, ch, fill)
	}
	if m.band > 0 {
		c.rule(0, l.grid.live, y+m.band, 1, Colour{})
	} else {
		c.upright(m.cell, y, y+m.h, 1, Colour{})
	}
	size := l.m.s
	tri := 2.3 * l.m.cap
	if signal == "NOTICE" {
		tri = 0
	}
	ww := textWidth(Bold, signal, size)
	for tri*1.1+ww+5 > w && size > 8 && m.band == 0 {
		size -= 0.25
		ww = textWidth(Bold, signal, size)
	}
	gap := 2.4
	if tri == 0 {
		gap = 0
	}
	x := (w - tri*1.1 - gap - ww) / 2
	mid := y + ch/2
	if tri > 0 {
		l.triangle(c, x, mid, tri, word, fill)
	}
	c.words(ink{face: Bold, size: size, colour: word}, x+tri*1.1+gap, mid+capHeight(size)/2, signal)
}

// triangle is the alert sign: a solid triangle with a mark of exclamation in the colour of the ground.
func (l *layout) triangle(c *canvas, x, mid, side float64, ink, ground Colour) {
	w, h := side*1.1, side
	top := mid - h/2
	c.shape(ink, x+w/2, top, x+w, top+h, x, top+h)
	cx := x + w/2
	c.shape(ground, cx-0.07*w, top+0.38*h, cx+0.07*w, top+0.38*h, cx+0.04*w, top+0.7*h, cx-0.04*w, top+0.7*h)
	c.op(Circle{X: c.left + cx, Y: top + 0.83*h, R: 0.055 * w, Filled: true, Fill: ground})
}
