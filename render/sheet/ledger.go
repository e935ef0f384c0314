package sheet

import (
	"math"
	"slices"

	"refitcard/render/document"
)

// The ledger as a picture: a row a thing, a column a step. In mm from the left margin.
const (
	ledgerThing  = 45.0 // until here the name of a thing
	ledgerCount  = 56.0 // right edge of the counts
	ledgerLeft   = 62.0 // of the first column
	ledgerEnd    = 33.7 // room at the right for how a thing stands at the end
	widestStep   = 9.03
	ledgerSteps  = 20 // columns at a time
	mostSteps    = 24 // in one picture, where that saves a second one
	barHigh      = 2.2
	markRadius   = 1.95
	markPen      = 1.3 // pt
	edgeGap      = 2.0 // between the tip of a bar that runs off the edge and the words behind it
	tipLong      = 2.6
	uprightWhite = 0.65
)

// window is the columns that one picture shows of a ledger.
type window struct {
	ledger   document.Ledger
	from, to int // columns
	wide     float64
	right    float64 // of the last column
	end      float64 // where the words at the end stand
	last     bool
}

// centre is the middle of a column of the whole ledger.
func (w window) centre(column int) float64 {
	return ledgerLeft + (float64(column-w.from)+0.5)*w.wide
}

// ledgers gives the pieces of all ledgers; one with more than 20 steps is cut into pictures of 20 with the names repeated.
func (p *reviewer) ledgers() []piece {
	var ps []piece
	for _, l := range p.review.Ledgers {
		title := "Ledger"
		if l.Variant != "" && len(p.review.Ledgers) > 1 {
			title += ", " + l.Variant
		}
		if len(l.Rows) == 0 {
			ps = append(ps, p.note(title, "", "No step takes anything off, opens, drains or locks anything.")...)
			continue
		}
		n := columnsOf(len(l.Steps))
		for from := 0; from < max(len(l.Steps), 1); from += n {
			ps = append(ps, p.picture(title, p.window(l, from, n))...)
		}
	}
	return ps
}

// columnsOf gives how many columns the pictures of a ledger have: all, or as many in each of several that hold 20 at most.
func columnsOf(steps int) int {
	if steps <= mostSteps {
		return max(steps, 1)
	}
	pictures := (steps + ledgerSteps - 1) / ledgerSteps
	return (steps + pictures - 1) / pictures
}

// window is the picture of n columns from one on; columns are of one width in all pictures of a ledger.
func (p *reviewer) window(l document.Ledger, from, n int) window {
	w := window{ledger: l, from: from, to: min(from+n, len(l.Steps)), end: p.grid.live - ledgerEnd + 5}
	w.last = w.to == len(l.Steps)
	w.wide = min(widestStep, (p.grid.live-ledgerEnd-ledgerLeft)/float64(n))
	w.right = ledgerLeft + float64(w.to-w.from)*w.wide
	return w
}

// picture gives the pieces of one window.
func (p *reviewer) picture(title string, w window) []piece {
	help := "what is off, loose, drained or locked after each step"
	if w.from > 0 || !w.last {
		help += ", steps " + w.ledger.Steps[w.from] + " to " + w.ledger.Steps[w.to-1]
	}
	ps := []piece{p.sectionHead(title, help, func(c *canvas, base float64) { p.ledgerHeads(c, w, base, "Thing") })}
	thing := "Thing"
	if w.ledger.Variant != "" { // on a further page nothing else says whose ledger it is
		thing += ", " + w.ledger.Variant
	}
	again := p.headsAgain(title, func(c *canvas, base float64) { p.ledgerHeads(c, w, base, thing) })
	for i := range w.ledger.Rows {
		row := p.ledgerRow(w, w.ledger.Rows[i])
		row.again = []piece{again}
		ps = append(ps, row)
	}
	together(ps[1:])
	ps[len(ps)-1].keep = hard
	return append(ps, p.legend(w))
}

func (p *reviewer) ledgerHeads(c *canvas, w window, base float64, thing string) {
	i := ink{size: reviewHead}
	c.words(i, 0, base, thing)
	c.wordsRight(i, ledgerCount, base, "Count")
	for n := w.from; n < w.to; n++ {
		size := reviewHead
		for size > 7.7 && textWidth(Bold, w.ledger.Steps[n], size) > w.wide-0.6 {
			size -= 0.2
		}
		c.wordsMiddle(ink{face: Bold, size: size}, w.centre(n), base, w.ledger.Steps[n])
	}
	if w.last {
		c.words(i, w.end, base, "At the end")
	}
	c.rule(0, p.grid.live, base+rulesDown-0.5*millimetre, 1, Colour{})
}

// ledgerRow is one thing with its bars and marks.
func (p *reviewer) ledgerRow(w window, r document.LedgerRow) piece {
	names := p.set.plain(Regular, r.Thing).lines(reviewSize, ledgerThing-textWidth(Bold, r.Count, reviewSize)+ledgerCount-ledgerThing-3)
	face := Regular
	if r.Fault {
		face = Bold
	}
	var ends []line
	if w.last {
		ends = p.set.plain(face, r.End).lines(reviewSize, p.grid.live-w.end)
	} else if slices.ContainsFunc(r.Bars, func(b document.Bar) bool { return b.From < w.to && b.To >= w.to }) {
		ends = p.set.plain(Regular, "goes on").lines(reviewSize, p.grid.live-w.end) // a bar that is cut here is no fault
	}
	h := reviewRow + float64(max(len(names), len(ends), 1)-1)*reviewLead
	return piece{name: "ledger", h: h, draw: func(c *canvas, y float64) {
		c.box("ledger row", 0, y, p.grid.live, h, r.Thing+": "+r.End)
		base := y + (reviewRow+capHeight(reviewSize))/2
		c.lines(names, ink{size: reviewSize}, 0, base, reviewLead)
		c.wordsRight(ink{face: Bold, size: reviewSize}, ledgerCount, base, r.Count)
		for n := w.from; n <= w.to; n++ {
			c.upright(ledgerLeft+float64(n-w.from)*w.wide, y, y+h, 0.35, Grey(uprightWhite))
		}
		mid := y + reviewRow/2
		for _, b := range r.Bars {
			p.bar(c, w, r, b, mid)
		}
		p.marks(c, w, r, mid)
		c.lines(ends, ink{size: reviewSize}, w.end, base, reviewLead)
		c.rule(0, p.grid.live, y+h, 0.5, Colour{})
	}}
}

// bar draws the part of a bar that a window shows. One that reaches beyond the last step runs off the right edge.
func (p *reviewer) bar(c *canvas, w window, r document.LedgerRow, b document.Bar, mid float64) {
	if b.To < w.from || b.From >= w.to {
		return
	}
	x1, x2 := ledgerLeft, w.right
	if b.From >= w.from {
		x1 = w.centre(b.From)
	}
	if b.To < w.to {
		x2 = w.centre(b.To)
	}
	off := b.To >= len(w.ledger.Steps) && w.last
	if off {
		x2 = w.end - edgeGap - tipLong
	}
	top := mid - barHigh/2
	c.box("bar", x1, top, x2-x1, barHigh, r.Thing)
	if b.Hollow {
		c.op(Rect{X: c.left + x1, Y: top, W: x2 - x1, H: barHigh, Stroke: 0.9, Filled: true, Fill: Colour{255, 255, 255}})
	} else {
		c.fill(x1, top, x2-x1, barHigh, Colour{})
	}
	if off {
		tip := barHigh * 1.1
		c.shape(Colour{}, x2, mid-tip, x2+tipLong, mid, x2, mid+tip)
		c.box("off the edge", x2, mid-tip, tipLong, 2*tip, r.Thing)
	}
}

// marks draws the events of a row, side by side where a step has several.
func (p *reviewer) marks(c *canvas, w window, r document.LedgerRow, mid float64) {
	for i := 0; i < len(r.Marks); {
		n := i
		for n < len(r.Marks) && r.Marks[n].Column == r.Marks[i].Column {
			n++
		}
		group := r.Marks[i:n]
		if len(group) > 3 { // on and off and on again: the first and the last tell
			group = []document.Mark{group[0], group[len(group)-1]}
		}
		if col := r.Marks[i].Column; col >= w.from && col < w.to {
			x, step, radius := p.places(w, r, col, len(group))
			for k, m := range group {
				c.mark(m.Kind, x+float64(k)*step, mid, radius)
			}
		}
		i = n
	}
}

// places gives where n marks of a column stand: the first one, the way to the next, and their radius. Where the next column is
// free a second mark reaches into it; else they share the column.
func (p *reviewer) places(w window, r document.LedgerRow, col, n int) (x, step, radius float64) {
	radius = min(markRadius, w.wide/2-0.2)
	if n == 1 {
		return w.centre(col), 0, radius
	}
	busy := slices.ContainsFunc(r.Marks, func(m document.Mark) bool { return m.Column == col+1 }) ||
		slices.ContainsFunc(r.Bars, func(b document.Bar) bool { return b.From <= col && col < b.To })
	if n == 2 && !busy && w.wide > 6 {
		return w.centre(col), 2*radius + 0.7, radius
	}
	room := w.wide
	if n == 2 && !busy {
		room *= 1.25 // a little of the next column, so that both can be seen
	}
	radius = min(radius, (room/float64(n)-0.15)/2)
	step = 2*radius + 0.3
	x = w.centre(col) - float64(n-1)/2*step
	return max(x, w.centre(col)-w.wide/2+radius+0.1), step, radius
}

// mark draws one event.
func (c *canvas) mark(kind document.MarkKind, x, y, r float64) {
	switch kind {
	case document.ComesOff:
		c.op(Circle{X: c.left + x, Y: y, R: r, Filled: true})
	case document.GoesBack:
		pen := markPen * millimetre
		c.op(Circle{X: c.left + x, Y: y, R: r - pen/2, Stroke: markPen, Filled: true, Fill: Colour{255, 255, 255}})
	case document.Scrapped:
		d := r * math.Sqrt2 / 2 * 1.1
		c.op(Circle{X: c.left + x, Y: y, R: r, Filled: true, Fill: Colour{255, 255, 255}}) // it may stand on a bar
		c.op(Line{X1: c.left + x - d, Y1: y - d, X2: c.left + x + d, Y2: y + d, Width: markPen})
		c.op(Line{X1: c.left + x - d, Y1: y + d, X2: c.left + x + d, Y2: y - d, Width: markPen})
	case document.Turned:
		c.upright(x, y-markRadius, y+markRadius, markPen, Colour{})
	}
}

// legend says what the marks mean.
func (p *reviewer) legend(w window) piece {
	const high = 3.6
	return piece{name: "legend", gapA: 1.6, h: high, draw: func(c *canvas, y float64) {
		mid := y + high/2
		base := mid + capHeight(reviewHead)/2
		c.box("legend", 0, y, p.grid.live, high, "")
		x := min(ledgerLeft, p.grid.live-legendWidth())
		for _, l := range legendMarks() {
			c.mark(l.kind, x+markRadius, mid, markRadius)
			c.words(ink{size: reviewHead}, x+2*markRadius+1.6, base, l.words)
			x += l.width()
		}
		c.op(Rect{X: c.left + x, Y: mid - barHigh/2, W: legendBar, H: barHigh, Stroke: 0.9})
		c.words(ink{size: reviewHead}, x+legendBar+1.6, base, looseWords)
	}}
}

// The bar of the legend: its width in mm, and what it means.
const (
	legendBar  = 7.0
	looseWords = "in, not tight"
)

// legendMark is one entry of the legend.
type legendMark struct {
	kind  document.MarkKind
	words string
}

func legendMarks() []legendMark {
	return []legendMark{
		{document.ComesOff, "comes off"},
		{document.GoesBack, "goes back"},
		{document.Scrapped, "scrapped"},
		{document.Turned, "loosened or tightened"},
	}
}

// width is the room of an entry with the white behind it, in mm.
func (l legendMark) width() float64 {
	return 2*markRadius + 1.6 + textWidth(Regular, l.words, reviewHead) + 5
}

func legendWidth() float64 {
	w := legendBar + 1.6 + textWidth(Regular, looseWords, reviewHead)
	for _, l := range legendMarks() {
		w += l.width()
	}
	return w
}
