package sheet

import (
	"strings"

	"refitcard/render/document"
)

// field is one column of a table: text from x up to until, or with its right edge at x.
type field struct {
	head     string
	x, until float64
	right    bool
}

// rowCell is what stands in one column of a row; small stands below it in smaller type.
type rowCell struct {
	runs  []document.Run
	small string
}

func plainCell(s string) rowCell { return rowCell{runs: []document.Run{{Text: s}}} }
func boldCell(s string) rowCell  { return rowCell{runs: []document.Run{{Text: s, Bold: true}}} }

// section gives the pieces of a section: its head, then a piece a row. Heads are repeated where it goes on over the page.
func (p *reviewer) section(title, help string, fields []field, rows [][]rowCell) []piece {
	if len(rows) == 0 {
		return nil
	}
	ps := []piece{p.sectionHead(title, help, func(c *canvas, base float64) { p.fieldHeads(c, fields, base) })}
	again := p.headsAgain(title, func(c *canvas, base float64) { p.fieldHeads(c, fields, base) })
	for _, r := range rows {
		for _, part := range parts(r) {
			row := p.row(title, fields, part)
			row.again = []piece{again}
			ps = append(ps, row)
		}
	}
	together(ps[1:])
	return ps
}

// longest is how many letters a cell holds; an essay goes on in a row of its own, so that no row is taller than a page.
const longest = 900

// parts cuts a row whose cells are too long into several; the rows that go on leave the short cells empty.
func parts(cells []rowCell) [][]rowCell {
	head, tail, long := make([]rowCell, len(cells)), make([]rowCell, len(cells)), false
	for i, c := range cells {
		head[i] = c
		room := longest
		for k, r := range c.runs {
			if len(r.Text) <= room {
				room -= len(r.Text)
				continue
			}
			at := strings.LastIndexByte(r.Text[:room], ' ')
			if at < 0 && k > 0 {
				at = 0
			} else if at < 0 {
				break // one word: it stays whole
			}
			before, after := r, r
			before.Text, after.Text = r.Text[:at], strings.TrimSpace(r.Text[at:])
			head[i] = rowCell{runs: append(append([]document.Run{}, c.runs[:k]...), before)}
			tail[i] = rowCell{runs: append([]document.Run{after}, c.runs[k+1:]...), small: c.small}
			long = true
			break
		}
		if small := head[i].small; len(small) > longest {
			if at := strings.LastIndexByte(small[:longest], ' '); at > 0 {
				head[i].small, tail[i].small, long = small[:at], small[at+1:], true
			}
		}
	}
	if !long {
		return [][]rowCell{cells}
	}
	return append([][]rowCell{head}, parts(tail)...)
}

// together keeps the first two rows of a table on one page, and the last two: no row stands alone.
func together(rows []piece) {
	if n := len(rows); n > 1 {
		rows[0].keep, rows[n-2].keep = max(rows[0].keep, soft), max(rows[n-2].keep, soft)
	}
}

// note is a section that has only a sentence to say.
func (p *reviewer) note(title, help, words string) []piece {
	head := p.sectionHead(title, help, nil)
	lines := p.set.plain(Regular, words).lines(reviewSize, p.grid.live)
	h := capHeight(reviewSize) + float64(len(lines)-1)*reviewLead
	return []piece{head, {name: title, gapA: 2.6, h: h, draw: func(c *canvas, y float64) {
		c.box("note", 0, y, p.grid.live, h, words)
		c.lines(lines, ink{size: reviewSize}, 0, y+capHeight(reviewSize), reviewLead)
	}}}
}

// sectionHead is the head of a section with the heads of its columns, when it has any.
func (p *reviewer) sectionHead(title, help string, heads func(c *canvas, base float64)) piece {
	cap := capHeight(listHead)
	h := cap + below(listHead)
	if heads != nil {
		h = cap + columnsDown + rulesDown
	}
	return piece{name: title, gapA: p.gap, topGap: 3, h: h, keep: hard, stage: true, draw: func(c *canvas, y float64) {
		base := y + cap
		c.box("section", 0, y, p.grid.live, cap, title)
		w := c.words(ink{face: Bold, size: listHead, role: Heading2}, 0, base, title)
		c.words(ink{size: reviewSize}, w+4, base, help)
		if heads != nil {
			heads(c, base+columnsDown)
		}
	}}
}

func (p *reviewer) headsAgain(title string, heads func(c *canvas, base float64)) piece {
	cap := capHeight(reviewHead)
	return piece{name: title, topGap: 3, h: cap + rulesDown, draw: func(c *canvas, y float64) { heads(c, y+cap) }}
}

func (p *reviewer) fieldHeads(c *canvas, fields []field, base float64) {
	for _, f := range fields {
		if f.right {
			c.wordsRight(ink{size: reviewHead}, f.x, base, f.head)
			continue
		}
		c.words(ink{size: reviewHead}, f.x, base, f.head)
	}
	c.rule(0, p.grid.live, base+rulesDown-0.5*millimetre, 1, Colour{})
}

// row is one line of a table; text too long for its column takes more lines.
func (p *reviewer) row(name string, fields []field, cells []rowCell) piece {
	type broken struct{ lines, small []line }
	all := make([]broken, len(cells))
	h := 0.0
	for i, x := range cells {
		f := fields[i]
		width := f.until - f.x
		if f.right {
			width = f.x
		}
		if len(x.runs) > 0 && x.runs[0].Text != "" {
			all[i].lines = newParagraph(x.runs).lines(reviewSize, width)
		}
		if x.small != "" {
			all[i].small = p.set.plain(Regular, x.small).lines(reviewHead, width)
		}
		tall := float64(max(len(all[i].lines)-1, 0)) * reviewLead
		if len(all[i].lines) == 0 && len(all[i].small) > 0 {
			tall = -smallLead
		}
		h = max(h, tall+float64(len(all[i].small))*smallLead)
	}
	h += reviewRow
	return piece{name: name, h: h, draw: func(c *canvas, y float64) {
		c.box("row", 0, y, p.grid.live, h, rowText(cells))
		for i, b := range all {
			base := y + (reviewRow+capHeight(reviewSize))/2
			base = p.cellLines(c, fields[i], b.lines, ink{size: reviewSize}, base, reviewLead)
			if len(b.lines) > 0 {
				base += smallLead - reviewLead
			}
			p.cellLines(c, fields[i], b.small, ink{size: reviewHead}, base, smallLead)
		}
		c.rule(0, p.grid.live, y+h, 0.5, Colour{})
	}}
}

// cellLines puts the lines of a cell and gives the baseline behind them.
func (p *reviewer) cellLines(c *canvas, f field, lines []line, i ink, base, lead float64) float64 {
	if f.right {
		for n, l := range lines {
			c.line(l, i, f.x-l.width, base+float64(n)*lead, c.next(), false)
		}
	} else if len(lines) > 0 {
		c.lines(lines, i, f.x, base, lead)
	}
	return base + float64(len(lines))*lead
}

func rowText(cells []rowCell) string {
	var all []string
	for _, x := range cells {
		for _, r := range x.runs {
			if r.Text != "" {
				all = append(all, r.Text)
			}
		}
		if x.small != "" {
			all = append(all, x.small)
		}
	}
	return strings.Join(all, " ")
}
