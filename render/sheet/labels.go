package sheet

import (
	"fmt"
	"strings"

	"refitcard/render/document"
)

// LabelOptions say on which sheet labels are printed, and where on it they begin.
type LabelOptions struct {
	Paper string // a4 or letter; empty is a4
	Stock *Stock // nil: what belongs to the paper
	First int    // the first free place of a sheet already begun, from 1 along the rows; 0 is 1
}

// labeller lays out labels.
type labeller struct {
	*layout
	labels *document.Labels
	stock  Stock
	k      float64 // what sizes and places are of those on a label of 95 by 55
	inset  float64 // mm inside the edge
}

// The label of the page description, in mm; smaller ones have all on them in proportion.
const (
	labelWide, labelHigh = 95.0, 55.0
	labelInset           = 5.0
)

// LayLabels lays labels out on their sheets. Places behind the last label print as blank labels to write on; places before the
// first stay empty.
func LayLabels(labels *document.Labels, opt LabelOptions) (*Document, error) {
	g, err := gridOf(Options{Paper: opt.Paper})
	if err != nil {
		return nil, err
	}
	p := &labeller{layout: &layout{card: &document.JobCard{Header: labels.Header}, grid: g, set: newSetter()}, labels: labels, stock: stockFor(opt.Paper)}
	switch {
	case opt.Stock != nil:
		p.stock = *opt.Stock
	case opt.Paper != "" && opt.Paper != "a4" && opt.Paper != "letter":
		return nil, fmt.Errorf("labels on the paper %q: take a4 or letter, or give the measures of the sheet", opt.Paper)
	}
	if err := p.stock.fits(g.w, g.h); err != nil {
		return nil, err
	}
	if opt.First < 0 || opt.First > p.stock.Places() {
		return nil, fmt.Errorf("place %d: the sheet has %d", opt.First, p.stock.Places())
	}
	p.inset = labelInset
	if p.stock.Width < 80 || p.stock.Height < 45 {
		p.inset = 3
	}
	p.k = min(1, (p.stock.Width-2*p.inset)/(labelWide-2*labelInset), (p.stock.Height-2*p.inset)/(labelHigh-2*labelInset))
	return p.sheets(max(opt.First, 1) - 1), nil
}

// sheets draws all pages; the first label stands in a place counted from 0.
func (p *labeller) sheets(first int) *Document {
	h := p.labels.Header
	d := &Document{Title: h.Number + " " + h.Revision + " " + h.Title + ", labels", Language: "en", Number: h.Number, Revision: h.Revision, Width: p.grid.w, Height: p.grid.h}
	block := 0
	rest := p.labels.Labels
	for begun := true; begun || len(rest) > 0; begun = false {
		page := Page{}
		c := &canvas{page: &page, text: p.set, block: &block}
		p.cuts(c, first)
		for place := first; place < p.stock.Places(); place++ {
			x, y := p.stock.at(place)
			if len(rest) == 0 {
				p.blank(c, x, y)
				continue
			}
			p.label(c, &rest[0], x, y)
			rest = rest[1:]
		}
		d.Pages = append(d.Pages, page)
		first = 0
	}
	return d
}

// Cut lines are dashed, so that nobody takes them for a frame.
const cutPen = 0.4 // pt

// cuts draws the edges of the places that are printed, each line once: neighbours that touch share theirs.
func (p *labeller) cuts(c *canvas, first int) {
	type edge struct{ x1, y1, x2, y2 float64 }
	drawn := map[edge]bool{}
	dash := []float64{2, 2}
	put := func(e edge) {
		if drawn[e] {
			return
		}
		drawn[e] = true
		c.op(Line{X1: e.x1, Y1: e.y1, X2: e.x2, Y2: e.y2, Width: cutPen, Dash: dash})
	}
	for place := first; place < p.stock.Places(); place++ {
		x, y := p.stock.at(place)
		r, b := x+p.stock.Width, y+p.stock.Height
		if p.stock.GapX == 0 && place%p.stock.Across+1 < p.stock.Across {
			r, _ = p.stock.at(place + 1)
		}
		if p.stock.GapY == 0 && place+p.stock.Across < p.stock.Places() {
			_, b = p.stock.at(place + p.stock.Across)
		}
		put(edge{x, y, r, y})
		put(edge{x, y, x, b})
		put(edge{r, y, r, b})
		put(edge{x, b, r, b})
	}
}

// foot is the line at the bottom of a label: number, revision and machine at the left, the digest at the right.
func (p *labeller) foot(c *canvas, x, y float64) {
	h := p.labels.Header
	left, right := x+p.inset, x+p.stock.Width-p.inset
	base := y + p.stock.Height - p.inset
	size := max(9*p.k, 7.7)
	c.rule(left, right, base-capHeight(size)-1.9, 0.5, Colour{})
	at := left
	card := strings.TrimSpace(h.Number + " " + h.Revision + " " + h.Variant)
	room := right - left
	if h.Digest != "" {
		w := c.wordsRight(ink{face: Mono, size: size}, right, base, h.Digest)
		room -= w + 2.5
	}
	if textWidth(Bold, card, size) > room {
		card = cutWords(Bold, card, size, room)
	}
	at += c.words(ink{face: Bold, size: size}, at, base, card) + 2.5
	room -= at - left
	machine := h.Machine
	for textWidth(Regular, machine, size) > room { // "Rake winch RW40, serial 0210 and up": the serials stand on the card
		cut := strings.LastIndex(machine, ", ")
		if cut < 0 {
			machine = cutWords(Regular, machine, size, room)
			break
		}
		machine = machine[:cut]
	}
	if room > 4 {
		c.words(ink{size: size}, at, base, machine)
	}
}

// arrow leads from the step where a thing comes off to that where it goes back.
func (p *labeller) arrow(c *canvas, x1, x2, y float64) {
	const head = 2.6
	c.rule(x1, x2-head, y, 1, Colour{})
	c.shape(Colour{}, x2-head, y-head/2, x2, y, x2-head, y+head/2)
}

// blank is a label to write on.
func (p *labeller) blank(c *canvas, x, y float64) {
	k := p.k
	left, right, top := x+p.inset, x+p.stock.Width-p.inset, y+p.inset
	c.box("blank", x, y, p.stock.Width, p.stock.Height, "")
	small := max(9*k, 7.7)
	i := ink{size: small}
	count := 11.9 * k
	c.frame(left, top, 27*k, count, 0.75)
	c.words(i, left+1.4, top+1.3+capHeight(small), "Count")
	name := left + 35*k
	c.rule(name, right, top+count, 0.5, Colour{})
	c.words(i, name, top+count+1.1+capHeight(small), "Part")
	base := top + 29.4*k
	i.size = p.wordSize()
	at := left + c.words(i, left, base, "off step") + 1.8
	c.rule(at, at+9*k, base+0.5, 0.5, Colour{})
	arrow := at + 9*k + 2
	back := max(name, arrow+7.5)
	p.arrow(c, max(arrow, back-8), back-2, base-1.2*k)
	at = back + c.words(i, back, base, "back on step") + 1.8
	c.rule(at, min(at+9*k, right), base+0.5, 0.5, Colour{})
	p.foot(c, x, y)
}

func (p *labeller) wordSize() float64 { return max(labelWords*p.k, 8.2) }
