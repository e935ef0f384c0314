package sheet

import "slices"

// workDone is the head of the lines to write on.
const workDone = "Work done, and anything found"

// remarks gives a ruled line for each line of what is filled in there, below the head; none when nothing is.
func (p *recorder) remarks() []piece {
	var lines []line
	for _, s := range slices.Concat(p.long, p.record.Remarks) {
		lines = append(lines, p.set.plain(Regular, s).lines(recordSize, p.grid.live)...)
	}
	if len(lines) == 0 {
		return nil
	}
	head := p.workHead("")
	head.gapA, head.again, head.stage, head.keep = p.gap, p.again(), true, hard
	ps := []piece{head}
	for _, l := range lines {
		ps = append(ps, piece{name: workDone, again: p.again(p.workHead("continued")), h: ruledApart, draw: func(c *canvas, y float64) {
			c.lines([]line{l}, ink{size: recordSize}, 0, y+ruledApart-1.6, recordLead)
			c.rule(0, p.grid.live, y+ruledApart, recordPen, Colour{})
			c.box("remark", 0, y, p.grid.live, ruledApart, "")
		}})
	}
	return ps
}

// workHead is the head of what is filled in, with a word behind it.
func (p *recorder) workHead(help string) piece {
	cap := capHeight(listHead)
	return piece{name: workDone, gapA: p.gap, h: cap + 2, draw: func(c *canvas, y float64) {
		c.box("section", 0, y, p.grid.live, cap, workDone)
		w := c.words(ink{face: Bold, size: listHead, role: Heading2}, 0, y+cap, workDone)
		c.words(ink{size: recordSize}, w+4, y+cap, help)
	}}
}

// closing is what stands at the end of the last page: lines to write on, and the box for the last signature. It takes all
// the room that is left.
func (p *recorder) closing() piece {
	cap := capHeight(listHead)
	release := p.set.of(p.record.Release).lines(recordSize, p.grid.live-2*releaseInset)
	high := releaseHigh + float64(max(len(release)-2, 0))*recordLead
	down := 12.0 // mm from the head to the first line
	if p.ruled < 4 {
		down = 9
	}
	gap, ruled, again := p.gap, p.ruled, p.again()
	begun := len(p.remarks()) > 0 // then the head stands above what is filled in, and one line is left for what comes to mind
	if begun {
		cap, down, gap, ruled, again = 0, ruledApart, 0, 1, p.again(p.workHead("continued"))
	}
	h := cap + down + float64(ruled-1)*ruledApart + 4.8 + high - p.unmarkedRoom()
	return piece{name: workDone, gapA: gap, again: again, stage: !begun, h: h, draw: func(c *canvas, y float64) {
		if !begun {
			c.box("section", 0, y, p.grid.live, cap, workDone)
			c.words(ink{face: Bold, size: listHead, role: Heading2}, 0, y+cap, workDone)
		}
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
