package sheet

import (
	"fmt"

	"refitcard/render/document"
)

// Beside a box that is ticked stand date and time below each other.
const (
	markApart = 0.8 // mm
	markSize  = 8.2 // pt, 16 minutes of arc at 450 mm
)

// recordFill is what is filled in under one head to write in.
type recordFill struct {
	words   string
	verdict string // on a reading; in bold below it
	mark    bool   // a mark in the box to tick
}

// filledCell is a recordFill broken into lines: in the size of the sheet where one line will do, else in the small one.
type filledCell struct {
	recordFill
	x     float64 // of the words
	lines []line
	size  float64
	below []line
	high  float64
}

// mostTyped is how many lines there may be in a cell; what is longer stands among the remarks.
const mostTyped = 3

// seeBelow stands where there was no room for what is filled in.
const seeBelow = "see below"

// filledCells breaks what is filled in on a row to the widths of its columns.
func (p *recorder) filledCells(t recordTable, r recordLine) []filledCell {
	var cells []filledCell
	for i, f := range r.typed {
		until := p.grid.live
		if i+1 < len(t.write) {
			until = t.write[i+1].x
		}
		cell := filledCell{recordFill: f, x: t.write[i].x + writeIn, size: recordSize}
		if f.mark {
			cell.x += pickTick + markApart
		}
		w := until - 0.4 - cell.x
		switch {
		case f.mark:
			cell.size = markSize
		case textWidth(Regular, f.words, recordSize) > w:
			cell.size = recordSmall
		}
		if f.words != "" {
			cell.lines = p.set.plain(Regular, f.words).lines(cell.size, w)
		}
		if len(cell.lines) > mostTyped {
			p.long = append(p.long, fmt.Sprintf("Line %d, %s: %s", r.line, t.write[i].words, f.words))
			cell.lines = p.set.plain(Regular, seeBelow).lines(cell.size, w)
		}
		if f.verdict != "" {
			cell.below = p.set.plain(Bold, f.verdict).lines(recordSmall, w)
		}
		if n := len(cell.lines) + len(cell.below); n > 0 {
			cell.high = capHeight(cell.size) + float64(n-1)*recordLead2
		}
		cells = append(cells, cell)
	}
	return cells
}

// fillIn puts what is filled in into the middle of its row.
func (p *recorder) fillIn(c *canvas, cell filledCell, y, h float64) {
	if cell.mark {
		x, top := cell.x-markApart-pickTick, y+(h-pickTick)/2
		c.op(Line{X1: c.left + x + 0.22*pickTick, Y1: top + 0.52*pickTick, X2: c.left + x + 0.42*pickTick, Y2: top + 0.76*pickTick, Width: 1.8})
		c.op(Line{X1: c.left + x + 0.4*pickTick, Y1: top + 0.78*pickTick, X2: c.left + x + 0.8*pickTick, Y2: top + 0.22*pickTick, Width: 1.8})
		c.box("mark", x, top, pickTick, pickTick, "")
	}
	base := y + (h-cell.high)/2 + capHeight(cell.size)
	if len(cell.lines) > 0 {
		c.lines(cell.lines, ink{size: cell.size}, cell.x, base, recordLead2)
	}
	if len(cell.below) > 0 {
		c.lines(cell.below, ink{size: recordSmall}, cell.x, base+float64(len(cell.lines))*recordLead2, recordLead2)
	}
}

// typed puts what is filled in into a box at the head, in the largest type that it fits in on one line; what fits in none stands
// among the remarks.
func (p *recorder) typed(c *canvas, words string, x, w, base float64) {
	for _, size := range []float64{recordSize, recordSmall} {
		if textWidth(Regular, words, size) <= w {
			c.words(ink{size: size}, x, base, words)
			return
		}
	}
	c.words(ink{size: recordSmall}, x, base, seeBelow)
}

// tooLong keeps for the remarks what is filled in at the head and fits in none of its boxes.
func (p *recorder) tooLong() {
	for i, b := range p.record.Boxes {
		if textWidth(Regular, b.Typed, recordSmall) > p.grid.cols[i%len(p.grid.cols)].w-2*writeIn {
			p.long = append(p.long, b.Label+": "+b.Typed)
		}
	}
}

// readingFill puts what was read under "As found" and "As left".
func readingFill(r document.RecordReading) []recordFill {
	switch {
	case r.NotNeeded:
		return []recordFill{{}, {words: "not needed"}}
	case r.Ticked != "":
		return []recordFill{{}, {words: r.Ticked, mark: true}}
	case r.Found.Words == "" && r.Left.Words == "":
		return nil
	}
	return []recordFill{{words: r.Found.Words, verdict: r.Found.Verdict}, {words: r.Left.Words, verdict: r.Left.Verdict}}
}

// writtenFill puts what was written under the heads of its columns.
func writtenFill(w document.Written, heads []recordHead) []recordFill {
	if len(w) == 0 {
		return nil
	}
	var all []recordFill
	for _, h := range heads {
		all = append(all, recordFill{words: w[h.words]})
	}
	return all
}
