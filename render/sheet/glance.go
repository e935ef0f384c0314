package sheet

import (
	"slices"

	"refitcard/compiler/source"
	"refitcard/render/document"
)

// leastGlance is the least size in points of the lists that are looked over before starting.
const leastGlance = 11.0

// stacked is a list with those that stand below it, over one or two columns.
type stacked struct {
	lists []document.GlanceList
	wide  int // columns
}

// cell is one line of a list with its place in the row: an entry, or the head of a list.
type cell struct {
	column int
	count  string
	line   line
	at     float64 // where the name begins
	more   bool    // goes on with the entry of the row above
	goesOn bool    // and this entry in the row below
	head   *headCell
	from   source.Span
}

// headCell is the head of a list, with its rule below.
type headCell struct {
	x, w float64
	text string
}

// glance puts the lists side by side on the grid, a row of lines a piece, so that a long list breaks by its lines. Where an
// entry would wrap, the type goes down to its least size; then to three columns, if that takes fewer rows.
func (l *layout) glance(b document.Glance) []piece {
	size := max(0.857*l.m.s, leastGlance)
	rows, wraps := l.glanceRows(b, size, l.grid.cols)
	if wraps && size > leastGlance {
		size = leastGlance
		rows, wraps = l.glanceRows(b, size, l.grid.cols)
	}
	if wraps && len(l.grid.cols) == 4 {
		w := (l.grid.live - 2*between) / 3
		three := []column{{0, w}, {w + between, w}, {2 * (w + between), w}}
		if other, _ := l.glanceRows(b, size, three); len(other) < len(rows) {
			rows = other
		}
	}
	return l.rowPieces(rows, size)
}

// glanceRows lays the lists out in bands of columns; wraps tells whether an entry takes a second line.
func (l *layout) glanceRows(b document.Glance, size float64, cols []column) (rows [][]cell, wraps bool) {
	var stacks []stacked
	for _, list := range b.Lists {
		if n := len(stacks); list.Below && n > 0 {
			stacks[n-1].lists = append(stacks[n-1].lists, list)
			continue
		}
		wide := 1
		if list.Wide && len(cols) != 3 {
			wide = min(2, len(cols))
		}
		stacks = append(stacks, stacked{[]document.GlanceList{list}, wide})
	}
	for len(stacks) > 0 {
		used, n := 0, 0
		for n < len(stacks) && (used+stacks[n].wide <= len(cols) || n == 0) {
			used += stacks[n].wide
			n++
		}
		var columns [][]cell
		at := 0
		for _, s := range stacks[:n] {
			for k := range s.wide {
				c, wrapped := l.stackLines(s, k, cols[at:at+s.wide], size)
				columns = append(columns, c)
				wraps = wraps || wrapped
			}
			at += s.wide
		}
		rows = append(rows, side(columns)...)
		stacks = stacks[n:]
	}
	return rows, wraps
}

// side puts columns of cells next to each other.
func side(columns [][]cell) [][]cell {
	var rows [][]cell
	for n, c := range columns {
		for i, k := range c {
			k.column = n
			if i == len(rows) {
				rows = append(rows, nil)
			}
			rows[i] = append(rows[i], k)
		}
	}
	return rows
}

// stackLines gives column k of a stack: its part of the entries, under a head that spans all its columns.
func (l *layout) stackLines(s stacked, k int, cols []column, size float64) (out []cell, wraps bool) {
	for _, list := range s.lists {
		per := (len(list.Items) + s.wide - 1) / s.wide
		head := cell{}
		if k == 0 {
			head.head = &headCell{cols[0].x, cols[len(cols)-1].right() - cols[0].x, list.Head}
		}
		out = append(out, head)
		from, to := min(k*per, len(list.Items)), min((k+1)*per, len(list.Items))
		lines, wrapped := l.entries(list.Items[from:to], cols[k], size)
		out = append(out, lines...)
		wraps = wraps || wrapped
	}
	return out, wraps
}

// entries breaks the entries of one column; counts stand flush right before the names.
func (l *layout) entries(items []document.GlanceItem, col column, size float64) (out []cell, wraps bool) {
	most := 0.0
	for _, i := range items {
		if i.Count != "" {
			most = max(most, textWidth(Bold, i.Count, size))
		}
	}
	at := col.x
	if most > 0 {
		at += most + 2.2
	}
	for _, i := range items {
		broken := l.set.plain(Regular, i.Name).lines(size, col.right()-at)
		for k, ln := range broken {
			c := cell{line: ln, at: at, goesOn: k+1 < len(broken), from: i.At}
			if k == 0 {
				c.count = i.Count
			} else {
				c.more, wraps = true, true
			}
			out = append(out, c)
		}
	}
	return out, wraps
}

// band tells whether a row holds the heads of a band, and not one that stands below another list.
func band(row []cell) bool {
	for _, k := range row {
		if k.head == nil && len(k.line.atoms) > 0 {
			return false
		}
	}
	return true
}

// rowPieces makes a piece of each row. Heads hold on to the row below, and no row stands alone on a page.
func (l *layout) rowPieces(rows [][]cell, size float64) []piece {
	lead := size * 1.32 * millimetre
	label := capHeight(l.m.label)
	var ps []piece
	over := map[int]*headCell{} // the head over each column
	for i, row := range rows {
		p := piece{name: "lists", h: lead, keep: rowKeep(rows, i), aside: i > 0}
		goOn := headsOver(over, row)
		if band(row) {
			p.aside = false
			p.h, p.gapA = max(lead, label+2.2), 2.6*l.m.u
		} else if len(goOn) > 0 {
			p.again = []piece{l.headsAgain(goOn, max(lead, label+2.2))}
		}
		h := p.h
		p.draw = func(c *canvas, y float64) {
			base := y + capHeight(size) + (lead-capHeight(size))/2
			for _, k := range row {
				c, part := c.column(k.column)
				switch {
				case k.head != nil:
					l.listHead(c, k.head, y, h, "")
				case len(k.line.atoms) > 0:
					if !k.more {
						part.block = c.next()
					}
					indent := 0.0
					if k.count != "" {
						indent = 2.2 + textWidth(Bold, k.count, size)
						i := ink{face: Bold, size: size}
						c.op(Text{X: c.left + k.at - 2.2 - textWidth(i.face, k.count, size), Y: base, Face: i.face, Size: size, String: k.count + " ", Block: part.block})
					}
					c.line(k.line, ink{size: size}, k.at, base, part.block, k.goesOn)
					c.origin(k.from, "", k.at-indent, y, indent+k.line.width, lead)
				}
			}
		}
		ps = append(ps, p)
	}
	return ps
}

// rowKeep says how a row holds on to the next: heads always, the first two rows and the last two, a line to the one it goes on in,
// and in a single column the last two of each list.
func rowKeep(rows [][]cell, i int) keep {
	if i == len(rows)-1 {
		return free
	}
	ends := len(rows[i]) == 1 && i+2 < len(rows) && band(rows[i+2])
	headed := slices.ContainsFunc(rows[i], func(k cell) bool { return k.head != nil })
	goesOn := slices.ContainsFunc(rows[i+1], func(k cell) bool { return k.more })
	if i < 2 || i == len(rows)-2 || ends || headed || goesOn {
		return hard
	}
	return soft
}

// headsOver notes the heads of a row and gives those of the lists that go on in it from the row above, from left to right.
func headsOver(over map[int]*headCell, row []cell) []*headCell {
	var all []*headCell
	for _, k := range row {
		switch {
		case k.head != nil:
			over[k.column] = k.head
		case len(k.line.atoms) == 0: // the head of the column before reaches over this one
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
