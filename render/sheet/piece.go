package sheet

import (
	"fmt"
	"strings"

	"refitcard/compiler/source"
)

// keep says how a piece holds on to the one after it.
type keep int

const (
	free keep = iota // a page may end here
	soft             // only where what holds together so would not fit on a page of its own
	firm             // the same, for what holds together more strongly: an act with its passes
	hard             // never
)

// piece is a part of the body that is never split: it has a height and can be drawn anywhere.
type piece struct {
	name   string      // of the block, for messages
	step   string      // the step it belongs to
	at     source.Span // what of the source it says; unknown where it says nothing of it, or its draw tells by parts
	gapA   float64
	rule   float64 // pt, between gapA and gapB, not at the top of a page; 0: none
	gapB   float64
	topGap float64 // white above it at the top of a page
	h      float64
	indent float64 // of a step's number, where a frame stands on the margin
	base   float64 // of its first line below its top; 0: the cap height
	keep   keep
	stage  bool      // begins a stage
	aside  bool      // a further row of columns that are read one after the other
	seam   bool      // may part from its act where both don't fit on a page
	again  []piece   // what is printed above it where it opens a page: panels, "continued", heads of tables
	heads  [][]piece // what may be printed there, the best first: again is taken from them
	draw   func(c *canvas, y float64)
}

// above is the white and the rule over a piece that does not open a page.
func (p *piece) above() float64 { return p.gapA + p.rule*millimetre + p.gapB }

// opening is the height of a piece at the top of a page, with all that is repeated above it.
func (p *piece) opening() float64 {
	if len(p.again) == 0 {
		return p.topGap + p.h
	}
	h := 0.0
	for i := range p.again {
		a := &p.again[i]
		if i == 0 {
			h += a.topGap + a.h
			continue
		}
		h += a.above() + a.h
	}
	return h + p.gapA + p.h
}

// placed is a piece with the place of its top below the top of the body.
type placed struct {
	*piece
	y    float64
	rule float64 // where its rule is drawn; 0: none
}

// leaf is the body of one page.
type leaf struct {
	pieces []placed
	used   float64
	first  string // the first step on it
}

// group gives the end of the pieces from i that hold together at least so strongly.
func group(ps []piece, i int, least keep) int {
	for i < len(ps)-1 && ps[i].keep >= least {
		i++
	}
	return min(i+1, len(ps))
}

// TooTall says that blocks have to stand on one page, and do not fit on one of the paper.
type TooTall struct{ Blocks []string }

func (e *TooTall) Error() string {
	if len(e.Blocks) == 1 {
		return fmt.Sprintf("%q does not fit on one page: take a larger paper, hold it nearer (--distance) or make it shorter", e.Blocks[0])
	}
	return fmt.Sprintf("%q and %q have to stand on one page and do not fit: take a larger paper, hold it nearer (--distance) or make them shorter", strings.Join(e.Blocks[:len(e.Blocks)-1], ", "), e.Blocks[len(e.Blocks)-1])
}

// place puts the pieces of a page on it, what is repeated above the first one before it.
func (l *leaf) place(ps []piece) {
	l.pieces = make([]placed, 0, len(ps)+len(ps[0].again))
	for k := range ps[0].again {
		l.set(&ps[0].again[k], k > 0)
	}
	for i := range ps {
		p := &ps[i]
		if i == 0 && len(p.again) > 0 {
			l.put(p, p.gapA, 0)
			continue
		}
		l.set(p, i > 0)
	}
}

// set puts one piece below what stands there, its rule above it unless it opens the page.
func (l *leaf) set(p *piece, ruled bool) {
	if !ruled {
		l.put(p, p.topGap, 0)
		return
	}
	rule := 0.0
	if p.rule > 0 {
		rule = l.used + p.gapA + p.rule*millimetre/2
	}
	l.put(p, p.above(), rule)
}

func (l *leaf) put(p *piece, gap, rule float64) {
	l.pieces = append(l.pieces, placed{p, l.used + gap, rule})
	l.used += gap + p.h
	if l.first == "" {
		l.first = p.step
	}
}

// draw puts the body of a page, its top at y.
func (l *leaf) draw(c *canvas, y, live float64) {
	for _, p := range l.pieces {
		if !p.aside {
			c.readColumns()
		}
		if p.rule > 0 {
			c.rule(0, live, y+p.rule, p.piece.rule, Colour{})
		}
		p.piece.draw(c, y+p.y)
		c.origin(p.at, p.step, 0, y+p.y, live, p.h)
	}
	c.readColumns()
}
