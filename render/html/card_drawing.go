package html

import (
	"cmp"
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"rsc.io/qr"

	"refitcard/render/document"
)

// cardFigure is a picture that stands in the page itself. Source is empty when the picture is missing.
type cardFigure struct {
	Caption string
	Source  template.URL
}

// newCardFigure turns a picture into an address that holds it whole. A browser shows it as a picture only: a script or an
// address inside an SVG does nothing there (SVG 2, 2.2, secure static mode).
func newCardFigure(f document.Figure) (cardFigure, error) {
	out := cardFigure{Caption: f.Caption}
	if f.Data == nil {
		return out, nil
	}
	kind, ok := map[string]string{"png": "image/png", "jpeg": "image/jpeg", "svg": "image/svg+xml"}[f.Type]
	if !ok {
		return out, fmt.Errorf("the picture %q is of the type %q: use svg, png or jpeg", f.Key, f.Type)
	}
	out.Source = template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(f.Data))
	return out, nil
}

// cardLayout is a drawing of fasteners, in pixels.
type cardLayout struct {
	Part          string
	Told          string // the drawing in words, for those who can't see it
	Wide, High    float64
	Outline       string // corners of the part
	Outer, Inner  float64
	Radius        float64
	Middle, Upper float64 // of the mark that says which way is up
	Spots         []spot
}

type spot struct {
	X, Y  float64
	Order int
	Under bool // 6 and 9 are underlined
	Pen   float64
}

// The drawing in pixels: radius of a fastener, the least gap between two, the part's edge beyond them, the mark above.
const (
	spotRadius = 19.0
	spotGap    = 12.0
	partEdge   = 14.0
	topRoom    = 30.0
	widest     = 560.0
)

// newCardLayout sizes a drawing so that fasteners keep their distance; a wide one is made smaller as a whole.
func newCardLayout(l document.Layout) cardLayout {
	d := cardLayout{Part: l.Part, Told: toldLayout(l), Radius: spotRadius, Outer: 2 * (spotRadius + partEdge)}
	if len(l.Places) == 0 {
		return d
	}
	left, top, right, bottom, near := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1), math.Inf(1)
	for i, p := range l.Places {
		x, y := float64(p.X), 2*float64(p.Y) // a line is twice as high as a character is wide
		left, right, top, bottom = min(left, x), max(right, x), min(top, y), max(bottom, y)
		for _, q := range l.Places[:i] {
			if dist := math.Hypot(x-float64(q.X), y-2*float64(q.Y)); dist > 0 {
				near = min(near, dist)
			}
		}
	}
	scale := 1.0
	if !math.IsInf(near, 1) {
		scale = (2*spotRadius + spotGap) / near
	}
	off := spotRadius + partEdge + 2
	if wide := (right - left) * scale; wide+2*off > widest {
		scale *= (widest - 2*off) / wide
		d.Radius = min(d.Radius, near*scale*0.42)
	}
	for _, p := range l.Places {
		s := spot{X: whole((float64(p.X)-left)*scale + off), Y: whole((2*float64(p.Y)-top)*scale + off + topRoom), Order: p.Order, Pen: 2}
		s.Under = p.Order == 6 || p.Order == 9
		if p.Order == 1 {
			s.Pen = 5
		}
		d.Spots = append(d.Spots, s)
	}
	d.Wide, d.High = whole((right-left)*scale+2*off), whole((bottom-top)*scale+2*off+topRoom)
	d.Inner, d.Middle, d.Upper = d.Outer-4, whole(d.Wide/2), topRoom-6
	d.Outline = corners(d.Spots)
	return d
}

// whole rounds to a tenth of a pixel.
func whole(x float64) float64 { return math.Round(x*10) / 10 }

// corners gives the convex hull of the fasteners (the monotone chain of A. M. Andrew, 1979) as an SVG list of points.
func corners(spots []spot) string {
	sorted := slices.Clone(spots)
	slices.SortFunc(sorted, func(a, b spot) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	half := func() []spot {
		var h []spot
		for _, p := range sorted {
			for len(h) >= 2 && turn(h[len(h)-2], h[len(h)-1], p) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h
	}
	hull := half()
	slices.Reverse(sorted)
	hull = append(hull, half()...)
	var points []string
	for _, p := range hull {
		points = append(points, fmt.Sprintf("%g,%g", p.X, p.Y))
	}
	return strings.Join(points, " ")
}

// turn is above zero where the way from a over b to c bends left.
func turn(a, b, c spot) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// toldLayout reads the drawing out row by row, from the top.
func toldLayout(l document.Layout) string {
	places := slices.Clone(l.Places)
	slices.SortStableFunc(places, func(a, b document.Place) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) })
	words := fmt.Sprintf("%s, order of tightening, %d places", l.Part, len(places))
	for i, p := range places {
		switch {
		case i == 0:
			words += "; rows from the top: "
		case p.Y != places[i-1].Y:
			words += "; "
		default:
			words += ", "
		}
		if p.Order == 0 {
			words += "no number"
			continue
		}
		words += fmt.Sprint(p.Order)
	}
	return words
}

// scanCode is the code that stands on the printed page. The quiet zone of 4 squares around it is left by the style.
type scanCode struct {
	Side  int    // in squares
	Shape string // an SVG path
}

// newScanCode draws a payload as a scan code at level M, which can still be read when 15 % of it is soiled (ISO/IEC 18004); nil
// for an empty payload.
func newScanCode(payload string) (*scanCode, error) {
	if payload == "" {
		return nil, nil
	}
	code, err := qr.Encode(payload, qr.M)
	if err != nil {
		return nil, fmt.Errorf("%d characters are too many for a scan code: shorten the number of the card", len(payload))
	}
	var b strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from, y, x-from, x-from)
			}
		}
	}
	return &scanCode{code.Size, b.String()}, nil
}
