package sheet

import (
	"strings"

	"refitcard/render/document"
)

// recordHead is the head of a column; its x is the left edge, or the right one. Of a column to write in it is the upright.
type recordHead struct {
	words string
	x     float64
	right bool
}

// recordCell is a value with its edge.
type recordCell struct {
	words string
	x     float64
	bold  bool
}

// recordTable is one section with its lines.
type recordTable struct {
	title, help string
	high        float64 // the least height of a line; 0: that of a line to write in
	heads       []recordHead
	write       []recordHead // an upright stands before each
	rows        []recordLine
}

// recordLine is one line of a table.
type recordLine struct {
	line  int
	step  string
	what  []document.Run
	small []string     // below it in smaller type, each on lines of its own
	until float64      // where the words end at the latest
	right []recordCell // figures, their right edges
	left  *recordCell  // a part's number
	tick  bool         // a dash under the first head to write in, a box to tick under the second
	typed []recordFill // what is filled in, under the heads to write in; may be shorter than they are many
}

// table gives the pieces of a section: its head with the heads of the columns, then a piece a line.
func (p *recorder) table(t recordTable) []piece {
	if len(t.rows) == 0 {
		return nil
	}
	if t.high == 0 {
		t.high = recordRow
	}
	cap := capHeight(listHead)
	heading := func(help string) piece {
		return piece{name: t.title, gapA: p.gap, h: cap + columnsDown + rulesDown, draw: func(c *canvas, y float64) {
			c.box("section", 0, y, p.grid.live, cap, t.title)
			w := c.words(ink{face: Bold, size: listHead, role: Heading2}, 0, y+cap, t.title)
			c.words(ink{size: recordSize}, w+4, y+cap, help)
			p.recordHeads(c, t, y+cap+columnsDown)
		}}
	}
	head := heading(t.help)
	head.keep, head.stage, head.again = hard, true, p.again()
	again := p.again(heading("continued"))
	ps := []piece{head}
	for _, r := range t.rows {
		for _, row := range p.lines(t, r) {
			row.again = again
			ps = append(ps, row)
		}
	}
	together(ps[1:])
	if p.whole && len(t.rows) <= shortTable {
		for i := range ps[:len(ps)-1] {
			ps[i].keep = max(ps[i].keep, soft)
		}
	}
	return ps
}

// shortTable is how many lines a table has at the most that is kept on one page where that costs none.
const shortTable = 8

func (p *recorder) recordHeads(c *canvas, t recordTable, base float64) {
	i := ink{size: recordSmall}
	c.words(i, 0, base, "Line")
	for _, r := range t.rows {
		if r.step != "" {
			c.wordsRight(i, p.plan.step, base, "Step")
			break
		}
	}
	for _, h := range t.heads {
		if h.right {
			c.wordsRight(i, h.x, base, h.words)
			continue
		}
		c.words(i, h.x, base, h.words)
	}
	for _, h := range t.write {
		c.words(i, h.x+writeIn, base, h.words)
	}
	c.rule(0, p.grid.live, base+rulesDown-0.5*millimetre, 1, Colour{})
}

// mostDown is how many lines of text a row may have; what is longer goes on in a row without a number, so that no row is
// taller than a page.
const mostDown = 10

// lines gives the pieces of one line of a table: mostly one.
func (p *recorder) lines(t recordTable, r recordLine) []piece {
	until := r.until
	for _, cell := range r.right {
		if cell.words != "" {
			until = min(until, cell.x-textWidth(Bold, cell.words, recordSize)-3)
		}
	}
	words := newParagraph(r.what).lines(recordSize, max(until-p.plan.what, 20))
	var small []line
	for _, s := range r.small {
		small = append(small, p.set.plain(Regular, s).lines(recordSmall, max(until-p.plan.what, 20))...)
	}
	typed := p.filledCells(t, r)
	var ps []piece
	for first := true; first || len(words)+len(small) > 0; first = false {
		n := min(len(words), mostDown)
		m := min(len(small), mostDown-n)
		ps = append(ps, p.line(t, r, words[:n], small[:m], typed, first))
		typed = nil
		words, small = words[n:], small[m:]
	}
	for i := range ps[:len(ps)-1] {
		ps[i].keep = soft
	}
	return ps
}

// line is one row: number, step and values stand on its first baseline; uprights part the places to write in.
func (p *recorder) line(t recordTable, r recordLine, words, small []line, typed []filledCell, first bool) piece {
	cap := capHeight(recordSize)
	block := cap + float64(max(len(words)-1, 0))*recordLead
	if len(small) > 0 {
		block += float64(len(small)) * recordLead2
		if len(words) == 0 {
			block -= recordLead2
		}
	}
	var number []line
	if first && r.left != nil && r.left.words != "" {
		number = p.set.plain(Regular, r.left.words).lines(recordSize, p.plan.write1-2-r.left.x)
		block = max(block, cap+float64(len(number)-1)*recordLead)
	}
	h := max(t.high, block+2*rowPad)
	for _, cell := range typed {
		h = max(h, cell.high+2*rowPad)
	}
	text := strings.Join(strings.Fields(wordsOf(r.what)+" "+strings.Join(r.small, " ")), " ")
	return piece{name: t.title, h: h, draw: func(c *canvas, y float64) {
		base := y + (h-block)/2 + cap
		c.box("line", 0, y, p.grid.live, h, text)
		if first {
			c.words(ink{face: Bold, size: recordSize}, 0, base, numbered(r.line))
			if r.step != "" {
				c.wordsRight(ink{size: recordSize}, p.plan.step, base, r.step)
			}
		}
		at := p.recordWords(c, words, ink{size: recordSize}, base, recordLead)
		if len(words) > 0 {
			at += recordLead2 - recordLead
		}
		p.recordWords(c, small, ink{size: recordSmall}, at, recordLead2)
		if first {
			p.values(c, r, number, base)
		}
		p.writing(c, t, r, y, h, first)
		for _, cell := range typed {
			p.fillIn(c, cell, y, h)
		}
		c.rule(0, p.grid.live, y+h, recordPen, Colour{})
	}}
}

func wordsOf(runs []document.Run) string {
	var b strings.Builder
	for _, r := range runs {
		b.WriteString(r.Text)
	}
	return b.String()
}

// recordWords puts the words of a row and gives the baseline behind them.
func (p *recorder) recordWords(c *canvas, lines []line, i ink, base, lead float64) float64 {
	if len(lines) > 0 {
		c.lines(lines, i, p.plan.what, base, lead)
	}
	return base + float64(len(lines))*lead
}

func (p *recorder) values(c *canvas, r recordLine, number []line, base float64) {
	for _, cell := range r.right {
		face := Regular
		if cell.bold {
			face = Bold
		}
		if cell.words != "" {
			c.wordsRight(ink{face: face, size: recordSize}, cell.x, base, cell.words)
			w := textWidth(face, cell.words, recordSize)
			c.box("value", cell.x-w, base-capHeight(recordSize), w, capHeight(recordSize), cell.words)
		}
	}
	if len(number) > 0 {
		c.lines(number, ink{size: recordSize}, r.left.x, base, recordLead)
	}
}

// writing puts the uprights of a row and names the places to write in.
func (p *recorder) writing(c *canvas, t recordTable, r recordLine, y, h float64, first bool) {
	for i, w := range t.write {
		until := p.grid.live
		if i+1 < len(t.write) {
			until = t.write[i+1].x
		}
		c.upright(w.x, y, y+h, recordPen, Colour{})
		if !first {
			continue
		}
		switch {
		case i < len(r.typed) && r.typed[i].words != "":
			c.box("typed", w.x, y, until-w.x, h, strings.TrimSpace(numbered(r.line)+" "+r.typed[i].words+" "+r.typed[i].verdict))
			if r.typed[i].mark {
				c.tick(w.x+writeIn, y+(h-pickTick)/2, pickTick)
			}
		case r.tick && i == 0:
			c.words(ink{size: recordSize}, w.x+writeIn, y+(h+capHeight(recordSize))/2, "–")
		case r.tick && i == 1:
			c.tick(w.x+writeIn, y+(h-pickTick)/2, pickTick)
		default:
			c.box("write", w.x, y, until-w.x, h, numbered(r.line)+" "+w.words)
		}
	}
}
