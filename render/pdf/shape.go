package pdf

import (
	"fmt"

	"refitcard/render/sheet"
)

// pen takes a stroke of so many points.
func (a *artist) pen(width float64, c sheet.Colour, round bool) {
	if a.width != width {
		a.width = width
		a.page = append(appendNumber(a.page, width), " w "...)
	}
	if a.stroke != c {
		a.stroke = c
		a.colour(c, "RG ")
	}
	if a.round != round {
		a.round = round
		join := "0 j "
		if round {
			join = "1 j "
		}
		a.page = append(a.page, join...)
	}
}

// ink takes the colour of areas and letters.
func (a *artist) ink(c sheet.Colour) {
	if a.fill != c {
		a.fill = c
		a.colour(c, "rg ")
	}
}

func (a *artist) colour(c sheet.Colour, operator string) {
	for _, v := range [3]uint8{c.R, c.G, c.B} {
		a.page = append(appendNumber(a.page, float64(v)/255), ' ')
	}
	a.page = append(a.page, operator...)
}

// area chooses pen and ink; it gives the operator that paints a path, "" when there is nothing to paint.
func (a *artist) area(stroke float64, colour sheet.Colour, filled bool, fill sheet.Colour, round bool) string {
	if stroke > 0 {
		a.pen(stroke, colour, round)
	}
	if filled {
		a.ink(fill)
	}
	return painting(stroke, filled)
}

func painting(stroke float64, filled bool) string {
	switch {
	case stroke > 0 && filled:
		return "B\n"
	case stroke > 0:
		return "S\n"
	case filled:
		return "f\n"
	}
	return ""
}

// at writes a place on the page, given in mm from the top left corner, as the format counts: points from the bottom.
func (a *artist) at(x, y float64) {
	a.page = append(appendNumber(a.page, x*pointsPerMM), ' ')
	a.page = appendNumber(a.page, (a.height-y)*pointsPerMM)
}

func (a *artist) line(l sheet.Line) error {
	if !finite(l.X1, l.Y1, l.X2, l.Y2, l.Width) || !finite(l.Dash...) {
		return outOfReach("a line", append([]float64{l.X1, l.Y1, l.X2, l.Y2, l.Width}, l.Dash...)...)
	}
	if l.Width <= 0 {
		return nil
	}
	on := 0.0
	for _, v := range l.Dash {
		if v < 0 {
			return fmt.Errorf("a line has a dash of %g mm", v)
		}
		on += v
	}
	a.page = a.tagger.artifact(a.page)
	a.pen(l.Width, l.Colour, a.round)
	if on > 0 {
		a.page = append(a.page, '[')
		for _, v := range l.Dash {
			a.page = append(appendNumber(a.page, v*pointsPerMM), ' ')
		}
		a.page = append(a.page, "] 0 d "...)
	}
	a.at(l.X1, l.Y1)
	a.page = append(a.page, " m "...)
	a.at(l.X2, l.Y2)
	a.page = append(a.page, " l S\n"...)
	if on > 0 {
		a.page = append(a.page, "[] 0 d\n"...)
	}
	return nil
}

// rect draws a rectangle whose stroke lies wholly inside it.
func (a *artist) rect(r sheet.Rect) error {
	if !finite(r.X, r.Y, r.W, r.H, r.Stroke) {
		return outOfReach("a rectangle", r.X, r.Y, r.W, r.H, r.Stroke)
	}
	in := max(r.Stroke, 0) * millimetre / 2
	x, y, w, h := r.X+in, r.Y+in, r.W-2*in, r.H-2*in
	if w < 0 || h < 0 {
		return fmt.Errorf("a rectangle of %g by %g mm has no room for a stroke of %g pt", r.W, r.H, r.Stroke)
	}
	if painting(r.Stroke, r.Filled) == "" {
		return nil
	}
	a.page = a.tagger.artifact(a.page)
	paint := a.area(r.Stroke, r.Colour, r.Filled, r.Fill, false)
	a.box(x, y, w, h)
	a.page = append(a.page, paint...)
	return nil
}

// box writes the path of a rectangle.
func (a *artist) box(x, y, w, h float64) {
	a.at(x, y+h)
	a.page = append(a.page, ' ')
	a.page = append(appendNumber(a.page, w*pointsPerMM), ' ')
	a.page = append(appendNumber(a.page, h*pointsPerMM), " re "...)
}

func (a *artist) polygon(p sheet.Polygon) error {
	if len(p.Points) < 2 {
		return fmt.Errorf("a polygon of %d points can't be drawn", len(p.Points))
	}
	for _, q := range p.Points {
		if !finite(q.X, q.Y, p.Stroke) {
			return outOfReach("a polygon", q.X, q.Y, p.Stroke)
		}
	}
	if painting(p.Stroke, p.Filled) == "" {
		return nil
	}
	a.page = a.tagger.artifact(a.page)
	paint := a.area(p.Stroke, p.Colour, p.Filled, p.Fill, p.Round > 0)
	for i, q := range p.Points {
		a.at(q.X, q.Y)
		if i == 0 {
			a.page = append(a.page, " m "...)
			continue
		}
		a.page = append(a.page, " l "...)
	}
	a.page = append(a.page, "h "...)
	a.page = append(a.page, paint...)
	return nil
}

// handle is how long the handles of the four curves are that together come nearest to a circle of radius 1: off by less
// than 0.03 % (plain geometry).
const handle = 0.5522847

func (a *artist) circle(c sheet.Circle) error {
	if !finite(c.X, c.Y, c.R, c.Stroke) {
		return outOfReach("a circle", c.X, c.Y, c.R, c.Stroke)
	}
	if painting(c.Stroke, c.Filled) == "" || c.R <= 0 {
		return nil
	}
	a.page = a.tagger.artifact(a.page)
	paint := a.area(c.Stroke, c.Colour, c.Filled, c.Fill, false)
	a.at(c.X+c.R, c.Y)
	a.page = append(a.page, " m "...)
	for x, y := 1.0, 0.0; ; { // a quarter at a time, from (x, y) to (y, -x)
		for _, p := range [3][2]float64{{x + y*handle, y - x*handle}, {y + x*handle, -x + y*handle}, {y, -x}} {
			a.at(c.X+c.R*p[0], c.Y+c.R*p[1])
			a.page = append(a.page, ' ')
		}
		a.page = append(a.page, "c "...)
		if x, y = y, -x; x == 1 {
			break
		}
	}
	a.page = append(a.page, "h "...)
	a.page = append(a.page, paint...)
	return nil
}

// modules draws a scan code as one path, each run of dark squares a rectangle, so that no hair lines show between them.
func (a *artist) modules(m sheet.Modules) error {
	if !finite(m.X, m.Y, m.Size) {
		return outOfReach("a scan code", m.X, m.Y, m.Size)
	}
	width := 0
	for _, row := range m.Dark {
		width = max(width, len(row))
	}
	box := [4]float64{m.X, m.Y, float64(width) * m.Size, float64(len(m.Dark)) * m.Size}
	begun := false
	for y, row := range m.Dark {
		for x := 0; x < len(row); {
			end := x
			for end < len(row) && row[end] {
				end++
			}
			if end > x {
				if !begun {
					a.page = a.tagger.figure(a.page, m.Alt, box)
					a.ink(sheet.Colour{})
					begun = true
				}
				a.box(m.X+float64(x)*m.Size, m.Y+float64(y)*m.Size, float64(end-x)*m.Size, m.Size)
			}
			x = end + 1
		}
	}
	if begun {
		a.page = append(a.page, "f\n"...)
	}
	return nil
}
