package pdf

import (
	"fmt"
	"strings"

	"refitcard/render/sheet"
)

// pen takes a stroke of so many points.
func (a *artist) pen(width float64, c sheet.Colour, join string) {
	if w := width * millimetre; w != a.width {
		a.width = w
		a.pdf.SetLineWidth(w)
	}
	if !a.hasColour || a.stroke != c {
		a.stroke, a.hasColour = c, true
		a.pdf.SetDrawColor(int(c.R), int(c.G), int(c.B))
	}
	if a.join != join {
		a.join = join
		a.pdf.SetLineJoinStyle(join)
	}
}

// ink takes the colour that areas are filled with.
func (a *artist) ink(c sheet.Colour) {
	if a.fill != c {
		a.fill = c
		a.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
	}
}

// area chooses pen and ink; it gives the operator that paints a path, "" when there is nothing to paint.
func (a *artist) area(stroke float64, colour sheet.Colour, filled bool, fill sheet.Colour, join string) string {
	if stroke > 0 {
		a.pen(stroke, colour, join)
	}
	if filled {
		a.ink(fill)
	}
	switch {
	case stroke > 0 && filled:
		return "B"
	case stroke > 0:
		return "S"
	case filled:
		return "f"
	}
	return ""
}

// at writes a place on the page, given in mm from the top left corner, as the format counts: points from the bottom.
func (a *artist) at(x, y float64) string {
	return string(decimal(x*pointsPerMM)) + " " + string(decimal((a.height-y)*pointsPerMM))
}

func (a *artist) line(l sheet.Line) error {
	if err := finite("a line", append([]float64{l.X1, l.Y1, l.X2, l.Y2, l.Width}, l.Dash...)...); err != nil {
		return err
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
	a.raw(a.tagger.artifact())
	a.pen(l.Width, l.Colour, a.join)
	if on > 0 {
		a.pdf.SetDashPattern(l.Dash, 0)
	}
	a.raw(a.at(l.X1, l.Y1) + " m " + a.at(l.X2, l.Y2) + " l S")
	if on > 0 {
		a.pdf.SetDashPattern([]float64{}, 0)
	}
	return nil
}

// rect draws a rectangle whose stroke lies wholly inside it.
func (a *artist) rect(r sheet.Rect) error {
	if err := finite("a rectangle", r.X, r.Y, r.W, r.H, r.Stroke); err != nil {
		return err
	}
	in := max(r.Stroke, 0) * millimetre / 2
	x, y, w, h := r.X+in, r.Y+in, r.W-2*in, r.H-2*in
	if w < 0 || h < 0 {
		return fmt.Errorf("a rectangle of %g by %g mm has no room for a stroke of %g pt", r.W, r.H, r.Stroke)
	}
	paint := a.area(r.Stroke, r.Colour, r.Filled, r.Fill, "miter")
	if paint == "" {
		return nil
	}
	a.raw(a.tagger.artifact())
	a.raw(a.box(x, y, w, h) + " " + paint)
	return nil
}

// box writes the path of a rectangle.
func (a *artist) box(x, y, w, h float64) string {
	return a.at(x, y+h) + " " + string(decimal(w*pointsPerMM)) + " " + string(decimal(h*pointsPerMM)) + " re"
}

func (a *artist) polygon(p sheet.Polygon) error {
	if len(p.Points) < 2 {
		return fmt.Errorf("a polygon of %d points can't be drawn", len(p.Points))
	}
	join := "miter"
	if p.Round > 0 {
		join = "round"
	}
	paint := a.area(p.Stroke, p.Colour, p.Filled, p.Fill, join)
	var path strings.Builder
	for i, q := range p.Points {
		if err := finite("a polygon", q.X, q.Y, p.Stroke); err != nil {
			return err
		}
		path.WriteString(a.at(q.X, q.Y))
		if i == 0 {
			path.WriteString(" m ")
			continue
		}
		path.WriteString(" l ")
	}
	if paint == "" {
		return nil
	}
	a.raw(a.tagger.artifact())
	a.raw(path.String() + "h " + paint)
	return nil
}

func (a *artist) circle(c sheet.Circle) error {
	if err := finite("a circle", c.X, c.Y, c.R, c.Stroke); err != nil {
		return err
	}
	style := map[string]string{"B": "FD", "S": "D", "f": "F"}[a.area(c.Stroke, c.Colour, c.Filled, c.Fill, "miter")]
	if style == "" || c.R <= 0 {
		return nil
	}
	a.raw(a.tagger.artifact())
	a.pdf.Circle(c.X, c.Y, c.R, style)
	return nil
}

// modules draws a scan code as one path, each run of dark squares a rectangle, so that no hair lines show between them.
func (a *artist) modules(m sheet.Modules) error {
	if err := finite("a scan code", m.X, m.Y, m.Size); err != nil {
		return err
	}
	var path strings.Builder
	width := 0
	for y, row := range m.Dark {
		width = max(width, len(row))
		for x := 0; x < len(row); {
			end := x
			for end < len(row) && row[end] {
				end++
			}
			if end > x {
				size := m.Size
				path.WriteString(a.box(m.X+float64(x)*size, m.Y+float64(y)*size, float64(end-x)*size, size) + " ")
			}
			x = end + 1
		}
	}
	if path.Len() == 0 {
		return nil
	}
	box := [4]float64{m.X, m.Y, float64(width) * m.Size, float64(len(m.Dark)) * m.Size}
	a.raw(a.tagger.figure(m.Alt, box))
	a.ink(sheet.Colour{})
	a.raw(path.String() + "f")
	return nil
}
