package sheet

// closing is what stands at the end of the last page: lines to write on, and the box for the last signature. It takes all
// the room that is left.
func (p *recorder) closing() piece {
	cap := capHeight(listHead)
	release := p.set.of(p.record.Release).lines(recordSize, p.grid.live-2*releaseInset)
	high := releaseHigh + float64(max(len(release)-2, 0))*recordLead
	const title = "Work done, and anything found"
	down := 12.0 // mm from the head to the first line
	if p.ruled < 4 {
		down = 9
	}
	h := cap + down + float64(p.ruled-1)*ruledApart + 4.8 + high - p.unmarkedRoom()
	return piece{name: title, gapA: p.gap, again: p.again(), stage: true, h: h, draw: func(c *canvas, y float64) {
		c.box("section", 0, y, p.grid.live, cap, title)
		c.words(ink{face: Bold, size: listHead, role: Heading2}, 0, y+cap, title)
		bottom := y + h + p.extra
		top := bottom - high
		for at := y + cap + down; at <= top-4.8+hair; at += ruledApart {
			c.rule(0, p.grid.live, at, recordPen, Colour{})
			c.box("ruled", 0, at-ruledApart, p.grid.live, ruledApart, "")
		}
		p.release(c, release, top, high)
	}}
}

// release is the box that closes the record.
func (p *recorder) release(c *canvas, words []line, top, high float64) {
	live := p.grid.live
	c.frame(0, top, live, high, releasePen)
	c.box("release", 0, top, live, high, p.set.of(p.record.Release).text())
	c.lines(words, ink{size: recordSize}, releaseInset, top+2.9+capHeight(recordSize), recordLead)
	n := float64(len(p.record.Signing))
	w := (live - 2*releaseInset - (n-1)*between) / n
	base := top + high - 7.3
	for i, label := range p.record.Signing {
		x := releaseInset + float64(i)*(w+between)
		c.rule(x, x+w, base, recordPen, Colour{})
		c.box("sign", x, base-6, w, 6, label)
		c.words(ink{size: recordSmall}, x, base+1.6+capHeight(recordSmall), label)
	}
}
