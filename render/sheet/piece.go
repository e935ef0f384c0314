package sheet

import (
	"fmt"
)

// keep says how a piece holds on to the one after it.
type keep int

const (
	free keep = iota // a page may end here
	soft             // only where the whole would not fit on a page of its own
	hard             // never
)

// piece is a part of the body that is never split: it has a height and can be drawn anywhere.
type piece struct {
	name   string // of the block, for messages
	step   string // the step it belongs to
	gapA   float64
	rule   float64 // pt, between gapA and gapB, not at the top of a page; 0: none
	gapB   float64
	topGap float64 // white above it at the top of a page
	h      float64
	indent float64 // of a step's number, where a frame stands on the margin
	base   float64 // of its first line below its top; 0: the cap height
	keep   keep
	stage  bool    // begins a stage
	aside  bool    // a further row of columns that are read one after the other
	seam   bool    // may part from its act where both don't fit on a page
	again  []piece // what is printed above it where it opens a page: panels, "continued", heads of tables
	draw   func(c *canvas, y float64)
	split  func(room float64) (head, tail piece, ok bool)
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

// leastForStage is the height in mm below which a stage begins a new page.
const leastForStage = 30

// flow fills pages of a given room with pieces.
type flow struct {
	room   float64
	leaves []leaf
	cur    leaf
}

// paginate places the pieces on as many pages as they need. It names the first piece that fits on none.
func paginate(ps []piece, room float64, breaks map[int]bool) ([]leaf, error) {
	f := &flow{room: room}
	for i := 0; i < len(ps); {
		end := group(ps, i, soft)
		if breaks[i] && len(f.cur.pieces) > 0 {
			f.turn()
		}
		if err := f.put(ps, i, end); err != nil {
			return nil, err
		}
		i = end
	}
	if len(f.cur.pieces) > 0 || len(f.leaves) == 0 {
		f.leaves = append(f.leaves, f.cur)
	}
	return f.leaves, nil
}

// group gives the end of the pieces from i that hold together at least so strongly.
func group(ps []piece, i int, least keep) int {
	for i < len(ps)-1 && ps[i].keep >= least {
		i++
	}
	return min(i+1, len(ps))
}

// height of pieces in one go, at the top of a page or further down.
func height(ps []piece, top bool) float64 {
	h := 0.0
	for i := range ps {
		if i == 0 && top {
			h += ps[i].opening()
			continue
		}
		h += ps[i].above() + ps[i].h
	}
	return h
}

// hair is what rounding may add to a height.
const hair = 1e-6

func (f *flow) fits(ps []piece) bool {
	if len(f.cur.pieces) == 0 {
		return height(ps, true) <= f.room+hair
	}
	if ps[0].stage && f.room-f.cur.used < leastForStage {
		return false
	}
	return f.cur.used+height(ps, false) <= f.room+hair
}

// put places the pieces from i to end, whole if they fit on a page.
func (f *flow) put(ps []piece, i, end int) error {
	whole := ps[i:end]
	if f.fits(whole) {
		f.place(whole)
		return nil
	}
	if height(whole, true) <= f.room+hair {
		f.turn()
		f.place(whole)
		return nil
	}
	for i < end {
		next := min(group(ps, i, hard), end)
		part := ps[i:next]
		if !f.fits(part) && len(f.cur.pieces) > 0 {
			f.turn()
		}
		if f.fits(part) {
			f.place(part)
		} else if err := f.cut(part); err != nil {
			return err
		}
		i = next
	}
	return nil
}

// cut places a piece that is taller than a page by its own seams.
func (f *flow) cut(part []piece) error {
	for _, p := range part {
		for {
			if one := []piece{p}; f.fits(one) {
				f.place(one)
				break
			}
			if p.split == nil {
				if len(f.cur.pieces) > 0 && p.opening() <= f.room+hair && part[0].keep != hard {
					f.turn()
					continue
				}
				return tooTall(p)
			}
			room := f.room - f.cur.used - p.above()
			if len(f.cur.pieces) == 0 {
				room = f.room - (p.opening() - p.h)
			}
			head, tail, ok := p.split(room)
			if !ok {
				if len(f.cur.pieces) == 0 {
					return tooTall(p)
				}
				f.turn()
				continue
			}
			f.place([]piece{head})
			f.turn()
			p = tail
		}
	}
	return nil
}

func tooTall(p piece) error {
	where := p.name
	if p.step != "" {
		where += " of step " + p.step
	}
	return &TooTall{Block: where}
}

// TooTall says that a block does not fit on a page of the paper, and can't be split.
type TooTall struct{ Block string }

func (e *TooTall) Error() string {
	return fmt.Sprintf("%q does not fit on one page: take a larger paper or make it shorter", e.Block)
}

func (f *flow) turn() {
	if len(f.cur.pieces) == 0 {
		return
	}
	f.leaves = append(f.leaves, f.cur)
	f.cur = leaf{}
}

func (f *flow) place(ps []piece) {
	for i := range ps {
		p := &ps[i]
		if len(f.cur.pieces) > 0 {
			f.set(p, true)
			continue
		}
		for k := range p.again {
			f.set(&p.again[k], k > 0)
		}
		if len(p.again) > 0 {
			f.cur.pieces = append(f.cur.pieces, placed{p, f.cur.used + p.gapA, 0})
			f.cur.used += p.gapA + p.h
			f.note(p)
			continue
		}
		f.set(p, false)
	}
}

// set puts one piece below what stands there, its rule above it unless it opens the page.
func (f *flow) set(p *piece, ruled bool) {
	gap, rule := p.topGap, 0.0
	if ruled {
		gap = p.above()
		if p.rule > 0 {
			rule = f.cur.used + p.gapA + p.rule*millimetre/2
		}
	}
	f.cur.pieces = append(f.cur.pieces, placed{p, f.cur.used + gap, rule})
	f.cur.used += gap + p.h
	f.note(p)
}

func (f *flow) note(p *piece) {
	if f.cur.first == "" {
		f.cur.first = p.step
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
	}
	c.readColumns()
}
