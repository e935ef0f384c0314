package sheet

import (
	"fmt"

	"refitcard/render/document"
)

// passes puts the table of the passes with the drawing beside it; below it on narrow paper, where they may part. Where they
// don't fit under their act they take a page with the act repeated.
func (l *layout) passes(b document.Passes) []piece {
	if len(l.grid.cols) < 4 && b.Layout != nil && len(b.Rows) > 0 {
		table, plan := b, document.Passes{Layout: b.Layout}
		table.Layout = nil
		return append(l.passes(table), l.passes(plan)...)
	}
	rowH := l.grid.tick + 2.6*l.m.u
	tableH := 0.0
	if len(b.Rows) > 0 {
		tableH = capHeight(l.m.table) + 2.5 + float64(len(b.Rows))*rowH
		if b.Below != "" {
			tableH += 2 + capHeight(l.m.caption) + below(l.m.caption)
		}
	}
	x, drawH := 0.0, 0.0
	var d drawn
	if b.Layout != nil {
		room := l.grid.live - l.grid.textX
		x = l.grid.textX
		if len(b.Rows) > 0 {
			x = l.grid.cols[2].x
			room = l.grid.live - x
		}
		d = l.plan(*b.Layout, room)
		drawH = d.h
		x += max((room-d.w)/2, 0)
	}
	return []piece{{name: "passes", seam: true, gapA: 3.6 * l.m.u, h: max(tableH, drawH), draw: func(c *canvas, y float64) {
		if len(b.Rows) > 0 {
			l.passTable(c, b, y, rowH)
		}
		if b.Layout != nil {
			l.drawPlan(c, d, x, y)
		}
	}}}
}

func (l *layout) passTable(c *canvas, b document.Passes, y, rowH float64) {
	left := l.grid.textX
	name := textWidth(Regular, "Pass 10", l.m.s)
	first := left + name + max(18, textWidth(Bold, "100 ", l.m.s*1.07))
	second := first + 17
	head := y + capHeight(l.m.table)
	c.wordsRight(ink{size: l.m.table}, first, head, b.Unit)
	c.wordsRight(ink{size: l.m.table}, second, head, b.SecondUnit)
	c.rule(left, second, head+1.6, 1, Colour{})
	at := head + 2.5
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
		c.words(ink{size: l.m.caption}, left, at+2+capHeight(l.m.caption), b.Below)
	}
}
