package sheet

import (
	"slices"

	"refitcard/render/document"
)

// leastGlance is the least size in points of the lists that are looked over before starting.
const leastGlance = 11.0

// glanceLists are lists over columns of the grid: what of it does not depend on the size of type. A band of columns follows another.
type glanceLists struct {
	bands       [][]glanceColumn
	even, least [][]cell // its rows where no entry wraps, and those at the least size; nil until asked for
}

// listsKey names lists, by the first of them, over so many columns.
type listsKey struct {
	first   *document.GlanceList
	columns int
}

// glanceColumn is one column of a band, with its part of each list that stands there below another.
type glanceColumn struct{ parts []glancePart }

// glancePart is what one column has of a list. The head, in the first of its columns, spans all of them.
type glancePart struct {
	head  *headCell
	col   column
	items []document.GlanceItem
	names []*paragraph
	most  float64 // width of the widest count, in mm at one point of type
}

// headCell is the head of a list, with its rule below.
type headCell struct {
	x, w float64
	text string
}

// cell is one line of a list with its place in the row: an entry, or the head of a list.
type cell struct {
	column      int
	head        *headCell
	part        *glancePart // that the entry belongs to; nil for none
	item        int         // which of its entries
	line, lines int         // which line of it, and how many it takes
}

// more tells whether the cell goes on with the entry of the row above.
func (k *cell) more() bool { return k.line > 0 }

// left is where the names of a part begin: counts stand flush right before them.
func (g *glancePart) left(size float64) float64 {
	if g.most > 0 {
		return g.col.x + (g.most*size + 2.2)
	}
	return g.col.x
}

// count gives how many lines an entry takes at a size.
func (g *glancePart) count(item int, size float64) int {
	return g.names[item].count(size, g.col.right()-g.left(size))
}

// glance puts the lists side by side on the grid, a row of lines a piece, so that a long list breaks by its lines. Where an
// entry would wrap, the type goes down to its least size; then to three columns, if that takes fewer rows.
func (l *layout) glance(ps []piece, b document.Glance) []piece {
	size := max(0.857*l.m.s, leastGlance)
	lists := l.glanceLists(b, l.grid.cols)
	wraps := lists.wrap(size)
	if wraps && size > leastGlance {
		size = leastGlance
		wraps = lists.wrap(size)
	}
	rows := lists.rows(wraps)
	if wraps && len(l.grid.cols) == 4 {
		w := (l.grid.live - 2*between) / 3
		three := l.glanceLists(b, []column{{0, w}, {w + between, w}, {2 * (w + between), w}})
		if other := three.rows(true); len(other) < len(rows) {
			rows = other
		}
	}
	return l.rowPieces(ps, rows, size)
}

// glanceLists lays the lists out in bands of columns.
func (l *layout) glanceLists(b document.Glance, cols []column) *glanceLists {
	out := &glanceLists{}
	if len(b.Lists) == 0 {
		return out
	}
	key := listsKey{&b.Lists[0], len(cols)}
	if known := l.lists[key]; known != nil {
		return known
	}
	if l.lists == nil {
		l.lists = map[listsKey]*glanceLists{}
	}
	l.lists[key] = out
	used := len(cols) // of the band: the first list begins one
	for i := 0; i < len(b.Lists); {
		n := i + 1
		for n < len(b.Lists) && b.Lists[n].Below {
			n++
		}
		wide := 1
		if b.Lists[i].Wide && len(cols) != 3 {
			wide = min(2, len(cols))
		}
		if used+wide > len(cols) {
			out.bands, used = append(out.bands, nil), 0
		}
		band := &out.bands[len(out.bands)-1]
		for k := range wide {
			c := glanceColumn{make([]glancePart, 0, n-i)}
			for _, list := range b.Lists[i:n] {
				c.parts = append(c.parts, l.glancePart(list, k, cols[used:used+wide]))
			}
			*band = append(*band, c)
		}
		used += wide
		i = n
	}
	return out
}

// glancePart is what column k of those that a list has takes of it.
func (l *layout) glancePart(list document.GlanceList, k int, cols []column) glancePart {
	per := (len(list.Items) + len(cols) - 1) / len(cols)
	g := glancePart{col: cols[k], items: list.Items[min(k*per, len(list.Items)):min((k+1)*per, len(list.Items))]}
	if k == 0 {
		g.head = &headCell{cols[0].x, cols[len(cols)-1].right() - cols[0].x, list.Head}
	}
	g.names = make([]*paragraph, len(g.items))
	for i := range g.items {
		g.names[i] = l.set.plain(Regular, g.items[i].Name)
		if count := g.items[i].Count; count != "" {
			g.most = max(g.most, width(Bold, count))
		}
	}
	return g
}

// wrap tells whether an entry takes a second line at a size.
func (g *glanceLists) wrap(size float64) bool {
	for _, band := range g.bands {
		for _, c := range band {
			for i := range c.parts {
				for k := range c.parts[i].items {
					if c.parts[i].count(k, size) > 1 {
						return true
					}
				}
			}
		}
	}
	return false
}

// rows puts the columns next to each other. Where entries wrap it does so at the least size of type, the only one that they then have.
func (g *glanceLists) rows(wrap bool) [][]cell {
	known := &g.even
	if wrap {
		known = &g.least
	}
	if *known == nil {
		*known = g.arrange(leastGlance)
	}
	return *known
}

func (g *glanceLists) arrange(size float64) [][]cell {
	var rows [][]cell
	for _, band := range g.bands {
		columns := make([][]cell, len(band))
		high, all := 0, 0
		for n, c := range band {
			columns[n] = c.cells(n, size)
			high = max(high, len(columns[n]))
			all += len(columns[n])
		}
		flat := make([]cell, 0, all)
		for i := range high {
			from := len(flat)
			for _, c := range columns {
				if i < len(c) {
					flat = append(flat, c[i])
				}
			}
			rows = append(rows, flat[from:len(flat):len(flat)])
		}
	}
	return rows
}

// cells are the lines of a column, the n-th of its band.
func (c glanceColumn) cells(n int, size float64) []cell {
	most := 0
	for i := range c.parts {
		most += 1 + len(c.parts[i].items)
	}
	out := make([]cell, 0, most)
	for i := range c.parts {
		g := &c.parts[i]
		out = append(out, cell{column: n, head: g.head})
		for item := range g.items {
			lines := g.count(item, size)
			for line := range lines {
				out = append(out, cell{column: n, part: g, item: item, line: line, lines: lines})
			}
		}
	}
	return out
}

// band tells whether a row holds the heads of a band, and not one that stands below another list.
func band(row []cell) bool {
	for i := range row {
		if row[i].part != nil {
			return false
		}
	}
	return true
}

// rowPieces makes a piece of each row. Heads hold on to the row below, and no row stands alone on a page.
func (l *layout) rowPieces(ps []piece, rows [][]cell, size float64) []piece {
	lead := size * 1.32 * millimetre
	headed := max(lead, capHeight(l.m.label)+2.2)
	over := make([]*headCell, len(l.grid.cols)) // the head over each column
	var goOn, before []*headCell
	var again []piece // the heads before, on another page
	for i, row := range rows {
		p := piece{name: "lists", h: lead, keep: rowKeep(rows, i), aside: i > 0}
		goOn = headsOver(goOn[:0], over, row)
		if band(row) {
			p.aside = false
			p.h, p.gapA = headed, 2.6*l.m.u
		} else if len(goOn) > 0 {
			if !slices.Equal(goOn, before) {
				before = slices.Clone(goOn)
				again = []piece{l.headsAgain(before, headed)}
			}
			p.again = again
		}
		if !l.measuring {
			p.draw = l.drawRow(row, size, lead, p.h)
		}
		ps = append(ps, p)
	}
	return ps
}

// drawRow draws a row of lists of a height in mm.
func (l *layout) drawRow(row []cell, size, lead, h float64) func(c *canvas, y float64) {
	return func(c *canvas, y float64) {
		base := y + capHeight(size) + (lead-capHeight(size))/2
		for _, k := range row {
			c, part := c.column(k.column)
			switch {
			case k.head != nil:
				l.listHead(c, k.head, y, h, "")
			case k.part != nil:
				c.entry(k, part, ink{size: size}, y, base, lead)
			}
		}
	}
}

// entry draws a line of an entry of a list; its count stands before the first.
func (c *canvas) entry(k cell, part *columnPart, i ink, y, base, lead float64) {
	if !k.more() {
		part.block = c.next()
	}
	item, at := k.part.items[k.item], k.part.left(i.size)
	indent := 0.0
	if item.Count != "" && !k.more() {
		wide := textWidth(Bold, item.Count, i.size)
		indent = 2.2 + wide
		c.op(Text{X: c.left + at - 2.2 - wide, Y: base, Face: Bold, Size: i.size, String: item.Count + " ", Block: part.block})
	}
	line := k.part.names[k.item].lines(i.size, k.part.col.right()-at)[k.line]
	c.line(line, i, at, base, part.block, k.line+1 < k.lines)
	c.origin(item.At, "", at-indent, y, indent+line.width, lead)
}

// rowKeep says how a row holds on to the next: heads always, the first two rows and the last two, a line to the one it goes on in,
// and in a single column the last two of each list.
func rowKeep(rows [][]cell, i int) keep {
	if i == len(rows)-1 {
		return free
	}
	ends := len(rows[i]) == 1 && i+2 < len(rows) && band(rows[i+2])
	headed := slices.ContainsFunc(rows[i], func(k cell) bool { return k.head != nil })
	goesOn := slices.ContainsFunc(rows[i+1], func(k cell) bool { return k.more() })
	if i < 2 || i == len(rows)-2 || ends || headed || goesOn {
		return hard
	}
	return soft
}

// headsOver notes the heads of a row and adds to all those of the lists that go on in it from the row above, from left to right.
func headsOver(all, over []*headCell, row []cell) []*headCell {
	for _, k := range row {
		switch {
		case k.head != nil:
			over[k.column] = k.head
		case k.part == nil: // the head of the column before reaches over this one
			over[k.column] = over[k.column-1]
		case over[k.column] != nil && !slices.Contains(all, over[k.column]):
			all = append(all, over[k.column])
		}
	}
	return all
}

// headsAgain are the heads of lists that go on over the page.
func (l *layout) headsAgain(heads []*headCell, h float64) piece {
	return piece{name: "lists", h: h, draw: func(c *canvas, y float64) {
		for _, k := range heads {
			l.listHead(c, k, y, h, Artifact) // a reader that speaks has said it
		}
	}}
}

func (l *layout) listHead(c *canvas, k *headCell, y, h float64, role Role) {
	c.box("list", k.x, y, k.w, capHeight(l.m.label), k.text)
	c.words(ink{face: Bold, size: l.m.label, role: role}, k.x, y+h-0.6-1.6, k.text)
	c.rule(k.x, k.x+k.w, y+h-0.6, 0.5, Colour{})
}
