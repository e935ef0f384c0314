package sheet

import (
	"refitcard/render/document"
	"refitcard/render/faces"
)

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
	for _, s := range []string{b.Set, b.Angle, b.Dial} {
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
		c.pair(ink{face: Bold, size: size}, ink{face: Bold, size: l.m.unit}, axis-1.2, axis, y, b.Figure, b.Unit)
		y += 1.9 * l.m.u
	}
	if b.Second != "" {
		y += capHeight(l.m.second)
		c.pair(ink{size: l.m.second}, ink{size: l.m.second}, axis-1.2, axis, y, b.Second, b.SecondUnit)
		y += 1.9 * l.m.u
	}
	for _, s := range []string{b.Set, b.Angle, b.Dial} {
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
func (l *layout) measureBox(c *canvas, b document.MeasureBox, v column, top float64) {
	c.frame(v.x, top, v.w, measureHigh, 0.75)
	c.box("measure", v.x, top, v.w, measureHigh, b.Limits+" "+b.Unit)
	mid := top + measureHigh/2
	left := v.x
	if b.Place != "" {
		c.words(ink{size: l.m.label}, v.x+1.2, top+1+capHeight(l.m.label), b.Place)
		left += 4
	}
	read := max(l.m.label, l.least())
	plain, size, base := ink{size: read}, read, top+1+capHeight(read)
	unit := textWidth(Regular, b.Unit, read)
	unitX, unitY := v.right()-2-unit, mid+capHeight(read)/2
	if b.Limits == "" {
		c.words(plain, unitX, unitY, b.Unit)
		return
	}
	if w := textWidth(Bold, b.Limits, l.m.s); v.right()-unit-3-(left+w+4) >= 22*v.w/43.5*0.75 {
		size, base = l.m.s, mid+capHeight(l.m.s)/2
		c.upright(left+w+4, top, top+measureHigh, 0.75, Colour{})
	}
	block := c.next() // spoken as "12–18 mm"
	c.op(Text{X: c.left + left + 2, Y: base, Face: Bold, Size: size, String: b.Limits + " ", Block: block})
	c.op(Text{X: c.left + unitX, Y: unitY, Size: read, String: b.Unit, Block: block})
}

// least is the least size in points of what is read at the machine.
func (l *layout) least() float64 {
	if l.opt.Distance == 0 {
		return leastSize
	}
	return max(faces.SizeFor(l.opt.Distance, leastArc), leastSize)
}

// label is the least size in points of what only names a thing, 15 minutes of arc.
func (l *layout) label() float64 {
	if l.opt.Distance == 0 {
		return leastSize
	}
	return max(faces.SizeFor(l.opt.Distance, labelArc), leastSize)
}

func (l *layout) drawing(b document.Layout) piece {
	d := l.plan(b, l.grid.text)
	return piece{name: "layout", at: b.At, gapA: 2.3 * l.m.u, h: d.h, draw: func(c *canvas, y float64) {
		l.drawPlan(c, d, l.grid.textX, y)
	}}
}
