package sheet

import (
	"fmt"

	"refitcard/render/document"
)

// passes puts the table of the passes with the drawing beside it; below it on narrow paper, where they may part, and where a table
// is cut between its rows that is taller than the room in mm. Where they don't fit under their act they take a page with the act
// repeated.
func (l *layout) passes(b document.Passes, room float64) []piece {
	if !l.grid.narrow || len(b.Rows) == 0 {
		return []piece{l.passPiece(b)}
	}
	var ps []piece
	for _, part := range l.passParts(b, room) {
		ps = append(ps, l.passPiece(part))
	}
	if b.Layout != nil {
		ps = append(ps, l.passPiece(document.Passes{Layout: b.Layout}))
	}
	return ps
}

// passParts cuts the table of the passes into as few tables as fit a room.
func (l *layout) passParts(b document.Passes, room float64) []document.Passes {
	b.Layout = nil
	n, parts := len(b.Rows), 1
	for ; parts < n; parts++ {
		per := (n + parts - 1) / parts
		first, last := b, b
		first.Rows, first.Below = b.Rows[:per], ""
		last.Rows = b.Rows[(n-1)/per*per:]
		if max(l.passHeight(last), l.passHeight(first)) <= room {
			break
		}
	}
	per := (n + parts - 1) / parts
	var all []document.Passes
	for from := 0; from < n; from += per {
		part := b
		part.Rows = b.Rows[from:min(from+per, n)]
		if from+per < n {
			part.Below = ""
		}
		all = append(all, part)
	}
	return all
}

func (l *layout) passRow() float64 { return l.grid.tick + 2.6*l.m.u }

// passHeight is the height of the table alone.
func (l *layout) passHeight(b document.Passes) float64 {
	if len(b.Rows) == 0 {
		return 0
	}
	h := capHeight(l.m.table) + 2.5 + float64(len(b.Rows))*l.passRow()
	if b.Below != "" {
		h += 2 + capHeight(l.m.caption) + l.saidBelow(b).tall(l.captionLead()) + below(l.m.caption)
	}
	return h
}

// saidBelow is what is said below the table: "Same order in each pass; start at 1."
func (l *layout) saidBelow(b document.Passes) passage {
	return l.set.plain(Regular, b.Below).at(l.m.caption, l.grid.live-l.grid.textX)
}

func (l *layout) captionLead() float64 { return l.m.caption * 1.3 * millimetre }

// passPiece is a table, a drawing, or one beside the other.
func (l *layout) passPiece(b document.Passes) piece {
	x, drawH := 0.0, 0.0
	var d drawn
	if b.Layout != nil {
		room := l.grid.live - l.grid.textX
		x = l.grid.textX
		if l.grid.narrow {
			x, room = 0.5, l.grid.live-1 // the pen of the outline
		}
		if len(b.Rows) > 0 {
			x = l.grid.cols[2].x
			room = l.grid.live - x
		}
		d = l.plan(*b.Layout, room)
		drawH = d.h
		x += max((room-d.w)/2, 0)
	}
	return piece{name: "passes", seam: true, gapA: 3.6 * l.m.u, h: max(l.passHeight(b), drawH), draw: func(c *canvas, y float64) {
		if len(b.Rows) > 0 {
			l.passTable(c, b, y)
		}
		if b.Layout != nil {
			l.drawPlan(c, d, x, y)
		}
	}}
}

func (l *layout) passTable(c *canvas, b document.Passes, y float64) {
	left := l.grid.textX
	name := textWidth(Regular, "Pass 10", l.m.s)
	first := left + name + max(18, textWidth(Bold, "100 ", l.m.s*1.07))
	second := first + 17
	head := y + capHeight(l.m.table)
	c.wordsRight(ink{size: l.m.table}, first, head, b.Unit)
	c.wordsRight(ink{size: l.m.table}, second, head, b.SecondUnit)
	c.rule(left, second, head+1.6, 1, Colour{})
	at, rowH := head+2.5, l.passRow()
	for i, r := range b.Rows {
		mid := at + rowH/2
		c.tick(l.grid.tickX, mid-l.grid.tick/2, l.grid.tick)
		c.box("pass", left, at, second-left, rowH, fmt.Sprintf("%s %s", r.Name, r.Figure))
		c.words(ink{size: l.m.s}, left, mid+l.m.cap/2, r.Name)
		c.wordsRight(ink{face: Bold, size: 1.07 * l.m.s}, first, mid+l.m.cap/2, r.Figure)
		c.wordsRight(ink{size: l.m.table}, second, mid+l.m.cap/2, r.Second)
		at += rowH
		rule := 0.5
		if i == len(b.Rows)-1 {
			rule = 1
		}
		c.rule(left, second, at, rule, Colour{})
	}
	if b.Below != "" {
		c.lines(l.saidBelow(b).lines(), ink{size: l.m.caption}, left, at+2+capHeight(l.m.caption), l.captionLead())
	}
}
