package sheet

import (
	"strings"

	"refitcard/render/document"
)

// torqueColumns are the places in a table of torques, in mm from the left margin. Figures end 1.2 mm before their unit.
type torqueColumns struct {
	size           float64 // pt
	what, whatRoom float64
	unit, second   float64 // where the units begin
}

// The white between the columns and between figure and unit, in mm, and the least room for what is tightened.
const (
	torqueGap     = 4.0
	torqueUnitGap = 1.2
	leastWhat     = 32.0
	secondHead    = "The same in"
)

// torqueColumns gives each column the width of what stands in it; the names take what is left.
func (l *layout) torqueColumns(b document.TorqueTable) torqueColumns {
	for size := max(l.m.s*0.857, 11); ; size -= 0.25 {
		var step, figure, unit, second, secondUnit float64
		for _, r := range b.Rows {
			step = max(step, textWidth(Regular, r.Step, size))
			figure = max(figure, textWidth(Bold, r.Figure, size))
			unit = max(unit, textWidth(Bold, setUnit(&r), size))
			second = max(second, textWidth(Regular, r.Second, size))
			secondUnit = max(secondUnit, textWidth(Regular, r.SecondUnit, size))
		}
		figure = max(figure, textWidth(Bold, "Set", size))
		second = max(second, textWidth(Bold, secondHead, size)-torqueUnitGap-secondUnit)
		c := torqueColumns{size: size, what: max(16, max(step, textWidth(Bold, "Step", size))+torqueGap)}
		c.second = l.grid.live - secondUnit
		c.unit = c.second - torqueUnitGap - second - torqueGap - unit
		c.whatRoom = c.unit - torqueUnitGap - figure - torqueGap - c.what
		if c.whatRoom >= leastWhat || size-0.25 < 11 {
			c.whatRoom = max(c.whatRoom, 1)
			return c
		}
	}
}

// setUnit is what stands behind the figure to set: the unit, and the angle after it.
func setUnit(r *document.TorqueRow) string {
	switch {
	case r.Then == "":
		return r.Unit
	case r.Unit == "":
		return r.Then
	}
	return r.Unit + ", " + r.Then
}

// torqueTable lists the torques; its head repeats where it goes over the page.
func (l *layout) torqueTable(b document.TorqueTable) []piece {
	cols := l.torqueColumns(b)
	bold, plain := ink{face: Bold, size: cols.size}, ink{size: cols.size}
	lead := cols.size * 1.3 * millimetre
	rowH := lead + 1.6
	head := piece{name: "torques", h: rowH, gapA: 2.4 * l.m.u, rule: 1.5, gapB: 1.5, keep: hard, draw: func(c *canvas, y float64) {
		base := y + rowH - 2
		c.words(bold, 0, base, "Step")
		c.words(bold, cols.what, base, "Torques")
		c.wordsRight(bold, cols.unit-torqueUnitGap, base, "Set")
		c.wordsRight(bold, l.grid.live, base, secondHead)
		c.rule(0, l.grid.live, y+rowH-0.3, 1, Colour{})
	}}
	again := []piece{head}
	ps := append(l.said.take(1+len(b.Rows)), head)
	for i := range b.Rows {
		r := &b.Rows[i]
		what := l.set.plain(Regular, r.What).at(cols.size, cols.whatRoom)
		h := rowH + what.tall(lead)
		p := piece{name: "torques", at: r.At, h: h, again: again}
		if l.measuring {
			ps = append(ps, p)
			continue
		}
		p.draw = func(c *canvas, y float64) {
			base := y + rowH - 2
			c.box("torques", 0, y, l.grid.live, h, strings.Join(strings.Fields(r.Step+" "+r.What+" "+r.Figure+" "+setUnit(r)), " "))
			c.words(plain, 0, base, r.Step)
			c.lines(what.lines(), plain, cols.what, base, lead)
			c.pair(bold, bold, cols.unit-torqueUnitGap, cols.unit, base, r.Figure, setUnit(r))
			if r.Second != "" {
				c.pair(plain, plain, cols.second-torqueUnitGap, cols.second, base, r.Second, r.SecondUnit)
			}
			c.rule(0, l.grid.live, y+h-0.3, 0.5, Colour{})
		}
		ps = append(ps, p)
	}
	together(ps[1:])
	return ps
}
