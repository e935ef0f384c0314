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
	beside := room >= leastHold
	if !beside {
		room = l.grid.live - l.grid.textX - 3
	}
	who := l.set.plain(Bold, "HOLD for "+b.For)
	if b.Why != "" {
		who = l.set.mixed("HOLD for "+b.For, []document.Run{{Text: b.Why}})
	}
	first, then := who.at(l.m.s, room), l.set.plain(Regular, words).at(l.m.s, room)
	block := l.m.cap + float64(first.n+then.n-1)*l.m.lead
	h := max(19, block+2*4.2)
	base := (h-block)/2 + l.m.cap
	top := (h - initialsHigh) / 2
	if !beside {
		base = 3.2 + l.m.cap
		top = 3.2 + block + below(l.m.s) + 1
		h = top + initialsHigh + 2.4
	}
	return piece{name: "hold", gapA: 2.3 * l.m.u, h: h, base: base, indent: holdIndent, draw: func(c *canvas, y float64) {
		c.box("hold", 0, y, l.grid.live, h, b.For)
		c.frame(0, y, l.grid.live, h, 0.9)
		c.frame(1.1, y+1.1, l.grid.live-2.2, h-2.2, 0.9)
		l.octagon(c, l.grid.tickX+l.grid.tick/2, y+base-l.m.cap/2, l.grid.tick*0.5)
		c.lines(append(first.lines(), then.lines()...), ink{size: l.m.s}, l.grid.textX, y+base, l.m.lead)
		c.frame(v.x, y+top, v.w-3, initialsHigh, 0.75)
		c.box("initials", v.x, y+top, v.w-3, initialsHigh, "")
		c.words(ink{size: l.m.label}, v.x+1.5, y+top+1.4+capHeight(l.m.label), "Initials, time")
	}}
}

// The height of the box for initials and time, and the least width beside it for the words; on the narrowest paper they stand
// above it. In mm.
const (
	initialsHigh = 13.0
	leastHold    = 45.0
)

func (l *layout) octagon(c *canvas, x, y, r float64) {
	k := r * 0.4142
	c.shape(Colour{}, x-k, y-r, x+k, y-r, x+r, y-k, x+r, y+k, x+k, y+r, x-k, y+r, x-r, y+k, x-r, y-k)
	c.fill(x-0.38*r, y-0.45*r, 0.24*r, 0.9*r, Colour{255, 255, 255})
	c.fill(x+0.14*r, y-0.45*r, 0.24*r, 0.9*r, Colour{255, 255, 255})
}

// handover lists what stands other than in a whole machine, in the frame of a hold. What is longer than the room in mm goes on in
// a frame of its own.
func (l *layout) handover(ps []piece, b document.Handover, room float64) []piece {
	lines := b.Lines
	for first := true; first || len(lines) > 0; first = false {
		n := len(lines)
		for n > 1 && l.handoverFrame(lines[:n], first).h > room {
			n--
		}
		p := l.handoverFrame(lines[:n], first)
		p.seam = !first
		ps = append(ps, p)
		lines = lines[n:]
	}
	return ps
}

// handoverFrame is one frame with its lines; first has the words that say what it is.
func (l *layout) handoverFrame(lines []document.HandoverLine, first bool) piece {
	width := l.grid.live - l.grid.textX - 4
	title := l.set.plain(Bold, "HANDOVER: the job may be left here").at(l.m.s, width)
	if !first {
		title = l.set.plain(Bold, "HANDOVER, continued").at(l.m.s, width)
	}
	rows := []passage{title}
	n := title.n
	for _, k := range lines {
		row := l.set.mixed(k.Label+":", []document.Run{{Text: k.Words}}).at(l.m.s, width)
		rows = append(rows, row)
		n += row.n
	}
	h := 6 + l.m.cap + float64(n-1)*l.m.lead + below(l.m.s)
	return piece{name: "handover", gapA: 2.3 * l.m.u, h: h, base: 3 + l.m.cap, indent: holdIndent, draw: func(c *canvas, y float64) {
		c.box("handover", 0, y, l.grid.live, h, "")
		c.frame(0, y, l.grid.live, h, 0.9)
		c.frame(1.1, y+1.1, l.grid.live-2.2, h-2.2, 0.9)
		base := y + 3 + l.m.cap
		l.octagon(c, l.grid.tickX+l.grid.tick/2, base-l.m.cap/2, l.grid.tick*0.45)
		for _, row := range rows {
			c.lines(row.lines(), ink{size: l.m.s}, l.grid.textX, base, l.m.lead)
			base += float64(row.n) * l.m.lead
		}
	}}
}
