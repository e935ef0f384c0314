package sheet

import "refitcard/compiler/source"

// canvas gathers the boxes and draw operations of one page. Its x counts from the left margin of that page.
type canvas struct {
	page  *Page
	left  float64 // mm from the paper's edge to the margin
	text  *setter
	block *int // number of the paragraph of the structure tree, through the document

	changed func(source.Span) bool // whether a bar stands in the margin beside what comes from a place; nil for nowhere

	columns []*columnPart // columns that are being drawn row by row
}

// columnPart is what one of several columns draws until they are put on the page, one after the other.
type columnPart struct {
	page  Page
	block int // of the entry that goes on in the next row
}

// column gives a canvas for column n: what is drawn on it stands where it should, and is read when the columns before it
// have been.
func (c *canvas) column(n int) (*canvas, *columnPart) {
	for n >= len(c.columns) {
		c.columns = append(c.columns, &columnPart{})
	}
	part := c.columns[n]
	return &canvas{page: &part.page, left: c.left, text: c.text, block: c.block, changed: c.changed}, part
}

// readColumns puts the columns drawn so far on the page.
func (c *canvas) readColumns() {
	for _, part := range c.columns {
		c.page.Boxes = append(c.page.Boxes, part.page.Boxes...)
		c.page.Ops = append(c.page.Ops, part.page.Ops...)
		c.page.Origins = append(c.page.Origins, part.page.Origins...)
	}
	c.columns = nil
}

// ink says how words are drawn.
type ink struct {
	face   Face
	size   float64
	colour Colour
	role   Role
}

func (c *canvas) op(o Op) { c.page.Ops = append(c.page.Ops, o) }

// box names a place. A box draws nothing.
func (c *canvas) box(name string, x, y, w, h float64, text string) {
	c.page.Boxes = append(c.page.Boxes, Box{name, c.left + x, y, w, h, text})
}

// origin says which piece of the source a place on the page comes from; nothing where that is unknown.
func (c *canvas) origin(at source.Span, step string, x, y, w, h float64) {
	if at.Known() {
		c.page.Origins = append(c.page.Origins, Origin{c.left + x, y, w, h, at, step})
	}
	if c.changed != nil && c.changed(at) {
		c.upright(-barOff, y, y+h, barPen, Colour{})
		c.box("changed", -barOff, y, 0, h, step)
	}
}

// A bar in the margin tells what has changed.
const (
	barOff    = 1.4 // mm from the margin to the middle of the bar
	barPen    = 1.5 // pt
	barMargin = 2.0 // mm that the bar takes of the margin
)

// next begins a new paragraph of the structure tree.
func (c *canvas) next() int {
	*c.block++
	return *c.block
}

// words puts a string with its left edge at x; it gives the width.
func (c *canvas) words(i ink, x, y float64, s string) float64 {
	if s == "" {
		return 0
	}
	c.op(Text{X: c.left + x, Y: y, Face: i.face, Size: i.size, String: s, Colour: i.colour, Role: i.role, Block: c.next()})
	return textWidth(i.face, s, i.size)
}

// wordsRight puts a string with its right edge at x.
func (c *canvas) wordsRight(i ink, x, y float64, s string) float64 {
	w := textWidth(i.face, s, i.size)
	c.words(i, x-w, y, s)
	return w
}

// wordsMiddle puts a string with its middle at x.
func (c *canvas) wordsMiddle(i ink, x, y float64, s string) {
	c.words(i, x-textWidth(i.face, s, i.size)/2, y, s)
}

// pair puts a figure with its right edge at x1 and what is counted or measured from x2: one paragraph, read as "22 N·m".
func (c *canvas) pair(i, j ink, x1, x2, y float64, figure, unit string) {
	block := c.next()
	c.op(Text{X: c.left + x1 - textWidth(i.face, figure, i.size), Y: y, Face: i.face, Size: i.size, String: figure + " ", Block: block})
	c.op(Text{X: c.left + x2, Y: y, Face: j.face, Size: j.size, String: unit, Block: block})
}

// lines puts broken text, the first baseline at y, one paragraph of the structure tree.
func (c *canvas) lines(ls []line, i ink, x, y, lead float64) {
	block := c.next()
	for n, l := range ls {
		c.line(l, i, x, y+float64(n)*lead, block, n+1 < len(ls))
	}
}

// line puts one line of text: neighbours of one face become one string. A space ends each string that another follows,
// so that text copied out of the file keeps its words apart.
func (c *canvas) line(l line, i ink, x, y float64, block int, more bool) {
	for n := 0; n < len(l.atoms); {
		a := &l.atoms[n]
		s := append(make([]byte, 0, 64), a.text...)
		w, end := a.width, n+1
		for ; end < len(l.atoms) && l.atoms[end].face == a.face; end++ {
			b := &l.atoms[end]
			if b.space > 0 {
				s = append(s, ' ')
			}
			s = append(s, b.text...)
			w += b.space + b.width
		}
		if end < len(l.atoms) {
			if gap := l.atoms[end].space; gap > 0 {
				s = append(s, ' ')
				w += gap
			}
		} else if more {
			s = append(s, ' ')
		}
		words := a.text
		if len(s) > len(words) {
			words = string(s)
		}
		c.op(Text{X: c.left + x, Y: y, Face: a.face, Size: i.size, String: words, Colour: i.colour, Role: i.role, Block: block})
		x += w * i.size
		n = end
	}
}

func (c *canvas) rule(x1, x2, y, pt float64, colour Colour) {
	c.op(Line{X1: c.left + x1, Y1: y, X2: c.left + x2, Y2: y, Width: pt, Colour: colour})
}

func (c *canvas) upright(x, y1, y2, pt float64, colour Colour) {
	c.op(Line{X1: c.left + x, Y1: y1, X2: c.left + x, Y2: y2, Width: pt, Colour: colour})
}

func (c *canvas) frame(x, y, w, h, pt float64) {
	c.op(Rect{X: c.left + x, Y: y, W: w, H: h, Stroke: pt})
}

func (c *canvas) fill(x, y, w, h float64, colour Colour) {
	c.op(Rect{X: c.left + x, Y: y, W: w, H: h, Filled: true, Fill: colour})
}

// shape fills a polygon whose points are given in pairs.
func (c *canvas) shape(colour Colour, xy ...float64) {
	ps := make([]Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		ps = append(ps, Point{c.left + xy[i], xy[i+1]})
	}
	c.op(Polygon{Points: ps, Filled: true, Fill: colour})
}

// tickStroke is the pen of a box to tick, in points.
const tickStroke = 1.1

// tick puts a box to tick of side w.
func (c *canvas) tick(x, y, w float64) {
	c.frame(x, y, w, w, tickStroke)
	c.box("tick", x, y, w, w, "")
}

// pointer puts the small solid triangle that leads to what is to be done: pointing right, centred on the cap height.
func (c *canvas) pointer(x, baseline, cap float64) {
	h := 0.85 * cap
	mid := baseline - cap/2
	c.shape(Colour{}, x, mid-h/2, x+0.8*h, mid, x, mid+h/2)
}
