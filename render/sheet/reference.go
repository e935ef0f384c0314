package sheet

import (
	"fmt"

	"refitcard/render/document"
	"refitcard/render/faces"
)

// A reference sheet lies on a desk: it is read at 450 mm, in two columns. Its type is the largest that keeps it on the sheets
// asked for, on one side each if it can be and else on both, and never less than 16 minutes of arc.
const (
	deskDistance = 450.0 // mm
	betweenParts = 3.2   // mm
	columnsApart = 7.0   // mm
	termShare    = 0.21  // of a column
	hanging      = 3.0   // mm, of the lines after the first of an entry
	entryGap     = 0.4   // mm, between entries
)

// referencing lays out one reference sheet.
type referencing struct {
	*layout
	size, lead float64 // pt, mm
	width      float64 // mm, of a column
}

// item is a piece of a column: it is never parted.
type item struct {
	h    float64
	hold bool // the next one stands below it in the same column
	draw func(c *canvas, x, y float64)
}

// LayReference lays a reference sheet out on opt.Sheets sheets of paper; two when that says nothing.
func LayReference(r *document.Reference, opt Options) (*Document, error) {
	g, err := gridOf(opt)
	if err != nil {
		return nil, err
	}
	if g.live < leastReview {
		return nil, fmt.Errorf("a reference sheet does not fit on the paper %q: take a4 or letter", opt.Paper)
	}
	if opt.Sheets == 0 {
		opt.Sheets = 2
	}
	opt.Sides = 2
	card := &document.JobCard{Header: r.Header, Foot: r.Foot, Language: "en"}
	p := &referencing{layout: &layout{card: card, opt: opt, grid: g, set: newSetter(), m: measuresOf(reviewSize)}, width: (g.live - columnsApart) / 2}
	p.unmarked = true
	for _, pages := range []int{opt.Sheets, 2 * opt.Sheets} {
		if leaves := p.fitted(r, pages); leaves != nil {
			return p.document(leaves), nil
		}
	}
	return nil, fmt.Errorf("the reference sheet does not fit on %d sheets of the paper %q: take a larger one", opt.Sheets, opt.Paper)
}

// fitted lays it out on at most so many pages, in the largest type that does; nil where none does.
func (p *referencing) fitted(r *document.Reference, pages int) []leaf {
	least := faces.SizeFor(deskDistance, leastArc)
	for size := faces.SizeFor(deskDistance, wantedArc); size >= least; size -= sizeStep {
		p.size, p.lead = size, size*1.18*millimetre
		columns := p.columns(p.items(r))
		if len(columns) > 2*pages {
			continue
		}
		if leaves, err := paginate(p.pages(columns), p.frame(taste{})); err == nil {
			return leaves
		}
	}
	return nil
}

// depth is the height of a column.
func (p *referencing) depth() float64 { return p.frame(taste{}).last - 4 }

// columns fills one column after the other; a heading never stands at the foot of one.
func (p *referencing) columns(items []item) [][]item {
	var all [][]item
	var now []item
	used := 0.0
	for i := 0; i < len(items); {
		n, h := 1, items[i].h
		for items[i+n-1].hold && i+n < len(items) {
			h += items[i+n].h
			n++
		}
		if used+h > p.depth() && len(now) > 0 {
			all, now, used = append(all, now), nil, 0
		}
		now = append(now, items[i:i+n]...)
		used += h
		i += n
	}
	return append(all, now)
}

// pages puts two columns on a page, as one piece.
func (p *referencing) pages(columns [][]item) []piece {
	var ps []piece
	for i := 0; i < len(columns); i += 2 {
		pair := columns[i:min(i+2, len(columns))]
		ps = append(ps, piece{name: "columns", topGap: 3, h: p.depth(), draw: func(c *canvas, y float64) {
			for k, column := range pair {
				x, at := float64(k)*(p.width+columnsApart), y
				for _, it := range column {
					it.draw(c, x, at)
					at += it.h
				}
			}
		}})
	}
	return ps
}

func (p *referencing) items(r *document.Reference) []item {
	var all []item
	for i, part := range r.Parts {
		all = append(all, p.partHead(part, i > 0))
		size := p.typed(part.Source)
		for _, s := range part.Source {
			all = append(all, p.source(s, size))
		}
		for _, e := range part.Entries {
			if part.Beside {
				all = append(all, p.beside(e))
			} else {
				all = append(all, p.runIn(e))
			}
		}
	}
	return all
}

func (p *referencing) partHead(part document.ReferencePart, apart bool) item {
	size := p.size * 1.25
	cap := capHeight(size)
	gap := 0.0
	if apart {
		gap = betweenParts
	}
	return item{h: gap + cap + 2.2, hold: true, draw: func(c *canvas, x, y float64) {
		base := y + gap + cap
		c.box("section", x, base-cap, p.width, cap, part.Title)
		w := c.words(ink{face: Bold, size: size, role: Heading2}, x, base, part.Title)
		c.words(ink{size: p.size}, x+w+2.5, base, part.Help)
		c.rule(x, x+p.width, base+1.2, 0.75, Colour{})
	}}
}

// typed is the size of source in points: the longest line fits the column.
func (p *referencing) typed(lines []string) float64 {
	size := p.size * 0.88
	for _, s := range lines {
		if w := textWidth(Mono, s, size); w > p.width {
			size *= p.width / w
		}
	}
	return size
}

func (p *referencing) source(s string, size float64) item {
	h := size * 1.2 * millimetre
	if s == "" {
		h /= 2
	}
	return item{h: h, draw: func(c *canvas, x, y float64) {
		c.words(ink{face: Mono, size: size}, x, y+capHeight(size)+0.4, s)
	}}
}

// runIn is an entry whose term stands at the head of its first line.
func (p *referencing) runIn(e document.ReferenceEntry) item {
	first := p.set.mixed(e.Term, []document.Run{{Text: e.Text}})
	lines := first.lines(p.size, p.width-hanging)
	h := float64(len(lines))*p.lead + entryGap
	return item{h: h, draw: func(c *canvas, x, y float64) {
		c.box("entry", x, y, p.width, h, e.Term)
		block := c.next()
		for n, ln := range lines {
			at := x
			if n > 0 {
				at += hanging
			}
			c.line(ln, ink{size: p.size}, at, y+capHeight(p.size)+0.4+float64(n)*p.lead, block, n+1 < len(lines))
		}
	}}
}

// beside is an entry with its term in a column of its own.
func (p *referencing) beside(e document.ReferenceEntry) item {
	from := p.width * termShare
	text := p.set.plain(Regular, e.Text).lines(p.size, p.width-from)
	typed := p.set.plain(Mono, e.Typed).lines(p.size*0.88, p.width-from)
	if e.Typed == "" {
		typed = nil
	}
	h := float64(max(len(text)+len(typed), 1))*p.lead + entryGap
	return item{h: h, draw: func(c *canvas, x, y float64) {
		base := y + capHeight(p.size) + 0.4
		c.box("entry", x, y, p.width, h, e.Term)
		c.words(ink{face: Bold, size: p.size}, x, base, e.Term)
		c.lines(text, ink{size: p.size}, x+from, base, p.lead)
		if len(typed) > 0 {
			c.lines(typed, ink{face: Mono, size: p.size * 0.88}, x+from, base+float64(len(text))*p.lead, p.lead)
		}
	}}
}
