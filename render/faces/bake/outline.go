package main

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// point is a place in the outline of a glyph, in units of the em, y upwards. Between two points that are off the curve
// lies one on it, halfway, as TrueType has it.
type point struct {
	x, y int
	on   bool
}

// glyph is an outline with its advance, in units of the em.
type glyph struct {
	contours [][]point
	advance  int
}

// reader takes glyphs out of a font. Instructions for small screens are left behind: a card is printed.
type reader struct {
	font   *sfnt.Font
	buffer sfnt.Buffer
}

func newReader(file []byte) (*reader, error) {
	f, err := sfnt.Parse(file)
	if err != nil {
		return nil, err
	}
	if f.UnitsPerEm() != unitsPerEm {
		return nil, fmt.Errorf("the font has %d units to the em, want %d", f.UnitsPerEm(), unitsPerEm)
	}
	return &reader{font: f}, nil
}

// index gives the number of the glyph of a character, 0 where the font has none.
func (r *reader) index(c rune) (sfnt.GlyphIndex, error) { return r.font.GlyphIndex(&r.buffer, c) }

// glyph gives an outline at full size, so that its points are whole units.
func (r *reader) glyph(i sfnt.GlyphIndex) (glyph, error) {
	const ppem = fixed.Int26_6(unitsPerEm << 6)
	segments, err := r.font.LoadGlyph(&r.buffer, i, ppem, nil)
	if err != nil {
		return glyph{}, err
	}
	var g glyph
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			g.contours = append(g.contours, []point{units(s.Args[0], true)})
			continue
		case sfnt.SegmentOpCubeTo:
			return glyph{}, fmt.Errorf("glyph %d has cubic curves, which TrueType can't hold", i)
		}
		last := len(g.contours) - 1
		if s.Op == sfnt.SegmentOpQuadTo {
			g.contours[last] = append(g.contours[last], units(s.Args[0], false), units(s.Args[1], true))
			continue
		}
		g.contours[last] = append(g.contours[last], units(s.Args[0], true))
	}
	for n, c := range g.contours {
		if end := len(c) - 1; end > 0 && c[0] == c[end] {
			g.contours[n] = c[:end] // a TrueType outline closes by itself
		}
	}
	advance, err := r.font.GlyphAdvance(&r.buffer, i, ppem, font.HintingNone)
	g.advance = advance.Round()
	return g, err
}

func units(p fixed.Point26_6, on bool) point { return point{p.X.Round(), -p.Y.Round(), on} }

// scaled is a glyph made larger or smaller about the left end of its baseline.
func (g glyph) scaled(factor float64) glyph {
	out := glyph{advance: round(float64(g.advance) * factor)}
	for _, c := range g.contours {
		var points []point
		for _, p := range c {
			points = append(points, point{round(float64(p.x) * factor), round(float64(p.y) * factor), p.on})
		}
		out.contours = append(out.contours, points)
	}
	return out
}

// box gives left, bottom, right and top of an outline; ok is false where nothing is drawn.
func (g glyph) box() (box [4]int, ok bool) {
	for _, c := range g.contours {
		for _, p := range c {
			if !ok {
				box, ok = [4]int{p.x, p.y, p.x, p.y}, true
			}
			box = join(box, [4]int{p.x, p.y, p.x, p.y})
		}
	}
	return box, ok
}

func join(a, b [4]int) [4]int {
	return [4]int{min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])}
}
