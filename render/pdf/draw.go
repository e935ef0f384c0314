package pdf

import (
	"fmt"
	"math"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
	"refitcard/render/sheet"
)

const (
	pointsPerMM = 72 / 25.4
	millimetre  = 25.4 / 72 // of a point
)

// drawing is what the first pass gives: the operators of each page, what their marked pieces mean, the fonts that they are
// set in, and the pictures that they show.
type drawing struct {
	pages []([]byte) // packed
	marks []mark
	fonts fontSet
	album album
}

// artist draws the operations of a sheet. It remembers what pen and type it holds.
type artist struct {
	drawing
	page   []byte  // operators of this page
	height float64 // of the page in mm
	tagger tagger
	held   // what the page holds now
}

// held is pen and type of a page. Its zero value is what a page begins with (ISO 32000-1, table 52), but for the pen and
// the type, which have to be chosen before they are used.
type held struct {
	font         faces.Font
	size         float64 // pt, 0: no type chosen yet
	width        float64 // pt, of the pen, 0: none chosen yet
	round        bool    // corners
	stroke, fill sheet.Colour
}

func paint(d *sheet.Document) (*drawing, error) {
	a := &artist{height: d.Height}
	p := getPacker()
	defer p.rest()
	a.tagger.expect(d)
	for n, page := range d.Pages {
		a.page = p.page[:0]
		a.tagger.turn(n)
		a.held = held{}
		for _, op := range page.Ops {
			if err := a.op(op); err != nil {
				return nil, fmt.Errorf("page %d: %w", n+1, err)
			}
		}
		a.page = a.tagger.close(a.page)
		a.pages = append(a.pages, p.deflate(a.page))
		p.page = a.page
	}
	a.marks = a.tagger.marks
	return &a.drawing, nil
}

// op draws one operation. A new kind of operation has to be drawn here, or the sheet is refused.
func (a *artist) op(op sheet.Op) error {
	switch o := op.(type) {
	case sheet.Text:
		return a.text(o)
	case sheet.Line:
		return a.line(o)
	case sheet.Rect:
		return a.rect(o)
	case sheet.Polygon:
		return a.polygon(o)
	case sheet.Circle:
		return a.circle(o)
	case sheet.Image:
		return a.image(o)
	case sheet.Modules:
		return a.modules(o)
	}
	return fmt.Errorf("no way to draw a %T", op)
}

// finite tells whether every number is one that can be drawn: not a number and infinity would end up in the file as words.
func finite(numbers ...float64) bool {
	for _, v := range numbers {
		if !(math.Abs(v) <= 1e6) {
			return false
		}
	}
	return true
}

// outOfReach is the error of what is not finite.
func outOfReach(what string, numbers ...float64) error {
	for _, v := range numbers {
		if !finite(v) {
			return fmt.Errorf("%s stands at or measures %g, which can't be drawn", what, v)
		}
	}
	return nil
}

func (a *artist) text(t sheet.Text) error {
	if !finite(t.X, t.Y, t.Size, t.Angle, t.Hollow) {
		return outOfReach(fmt.Sprintf("%q", t.String), t.X, t.Y, t.Size, t.Angle, t.Hollow)
	}
	var runs []letters.Run
	bare := plain(t.String)
	if !bare {
		var missing []letters.Missing
		if runs, missing = letters.Encode(t.String); len(missing) > 0 {
			m := missing[0]
			return fmt.Errorf("no face has %q (U+%04X), in %q: write it another way", m.Rune, m.Rune, t.String)
		}
		if len(runs) == 0 {
			return nil
		}
	}
	if t.Face < 0 || int(t.Face) >= len(a.fonts) {
		return fmt.Errorf("%q asks for face number %d, which is none", t.String, t.Face)
	}
	a.page = a.tagger.text(a.page, t)
	if t.Hollow > 0 {
		a.pen(t.Hollow, t.Colour, true)
	} else {
		a.ink(t.Colour)
	}
	a.page = append(a.page, "BT "...)
	if t.Hollow > 0 {
		a.page = append(a.page, "1 Tr "...)
	}
	a.stand(t)
	if bare {
		a.choose(faces.Font{Face: t.Face, Set: letters.Common}, t.Size)
		a.page = append(appendWords(a.page, t.String), " Tj "...)
	}
	for _, r := range runs {
		a.choose(faces.Font{Face: t.Face, Set: r.Set}, t.Size)
		a.page = append(appendWords(a.page, r.Codes), " Tj "...)
	}
	if t.Hollow > 0 {
		a.page = append(a.page, "0 Tr "...)
	}
	a.page = append(a.page, "ET\n"...)
	return nil
}

// plain tells whether a string, not empty, stands in the common set with its bytes as codes.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return s != ""
}

// stand goes to where a text begins, turned if need be.
func (a *artist) stand(t sheet.Text) {
	if t.Angle != 0 {
		sin, cos := math.Sincos(t.Angle * math.Pi / 180)
		for _, v := range []float64{cos, sin, -sin, cos} {
			a.page = append(appendFine(a.page, v), ' ')
		}
	}
	a.at(t.X, t.Y)
	if t.Angle != 0 {
		a.page = append(a.page, " Tm "...)
		return
	}
	a.page = append(a.page, " Td "...)
}

// choose takes a font and a size.
func (a *artist) choose(f faces.Font, size float64) {
	if a.font == f && a.size == size {
		return
	}
	a.font, a.size = f, size
	a.fonts[f.Face][f.Set] = true
	a.page = append(a.page, '/')
	a.page = append(a.page, resourceName(f)...)
	a.page = append(a.page, ' ')
	a.page = append(appendNumber(a.page, size), " Tf "...)
}
