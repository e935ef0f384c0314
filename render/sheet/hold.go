package sheet

import "refitcard/render/document"

// holdIndent is how far the step's number stands inside the frame, in mm: two figures keep clear of the octagon.
const holdIndent = 2.4

// hold stops for another person: two thin frames, never a thick one, which means danger.
func (l *layout) hold(b document.Hold) piece {
	words := "Signs on the record sheet. Then go on"
	if b.Line > 0 {
		words = "Signs line " + itoa(b.Line) + " of the record sheet. Then go on"
	}
	if b.Next != "" {
		words += " to step " + b.Next
	}
	words += "."
	v := l.grid.value
	room := v.x - l.grid.textX - 2
	who := l.set.plain(Bold, "HOLD for "+b.For)
	if b.Why != "" {
		who = l.set.mixed("HOLD for "+b.For, []document.Run{{Text: b.Why}})
	}
	first, then := who.at(l.m.s, room), l.set.plain(Regular, words).at(l.m.s, room)
	block := l.m.cap + float64(first.n+then.n-1)*l.m.lead
	h := max(19, block+2*4.2)
	base := (h-block)/2 + l.m.cap
	return piece{name: "hold", gapA: 2.3 * l.m.u, h: h, base: base, indent: holdIndent, draw: func(c *canvas, y float64) {
		c.box("hold", 0, y, l.grid.live, h, b.For)
		c.frame(-0, y, l.grid.live, h, 0.9)
		c.frame(1.1, y+1.1, l.grid.live-2.2, h-2.2, 0.9)
		l.octagon(c, l.grid.tickX+l.grid.tick/2, y+base-l.m.cap/2, l.grid.tick*0.5)
		c.lines(append(first.lines(), then.lines()...), ink{size: l.m.s}, l.grid.textX, y+base, l.m.lead)
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
	var rows []passage
	n := 1
	for _, k := range b.Lines {
		ls := l.set.mixed(k.Label+":", []document.Run{{Text: k.Words}}).at(l.m.s, room)
		rows = append(rows, ls)
		n += ls.n
	}
	h := 6 + l.m.cap + float64(n-1)*l.m.lead + below(l.m.s)
	return piece{name: "handover", gapA: 2.3 * l.m.u, h: h, base: 3 + l.m.cap, indent: holdIndent, draw: func(c *canvas, y float64) {
		c.box("handover", 0, y, l.grid.live, h, "")
		c.frame(0, y, l.grid.live, h, 0.9)
		c.frame(1.1, y+1.1, l.grid.live-2.2, h-2.2, 0.9)
		base := y + 3 + l.m.cap
		l.octagon(c, l.grid.tickX+l.grid.tick/2, base-l.m.cap/2, l.grid.tick*0.45)
		c.words(ink{face: Bold, size: l.m.s}, l.grid.textX, base, "HANDOVER: the job may be left here")
		for _, ls := range rows {
			base += l.m.lead
			c.lines(ls.lines(), ink{size: l.m.s}, l.grid.textX, base, l.m.lead)
			base += ls.tall(l.m.lead)
		}
	}}
}
