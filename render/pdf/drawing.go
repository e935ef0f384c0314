package pdf

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"math"
	"reflect"
	"regexp"

	"github.com/srwiley/oksvg"
	"github.com/srwiley/rasterx"
	"golang.org/x/image/math/fixed"

	"refitcard/render/sheet"
)

// vectors puts an SVG drawing into its box as paths, sharp at any size. Its letters are set in the faces of the
// sheet. A gradient takes the colour of its middle; what is see-through is drawn as it would look on white.
func (a *artist) vectors(m sheet.Image) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = errors.New("the drawing can't be read")
		}
	}()
	if bytes.Contains(m.Data, []byte("<textPath")) {
		return errors.New("the drawing lays letters along a line, which would be lost: turn them into paths")
	}
	// The library reads scale(2) as scale(2 0), by which a part would be lost.
	data := oneScale.ReplaceAll(m.Data, []byte("scale($1 $1)"))
	icon, err := oksvg.ReadIconStream(bytes.NewReader(data), oksvg.IgnoreErrorMode)
	if err != nil {
		return errors.New("the file can't be read as svg")
	}
	box := icon.ViewBox
	if !(box.W > 0 && box.H > 0) {
		return errors.New("the drawing has no size: give it a viewBox")
	}
	if len(icon.SVGPaths) == 0 && !bytes.Contains(m.Data, []byte("<text")) {
		return errors.New("the drawing is empty")
	}
	kx, ky := m.W*pointsPerMM/box.W, m.H*pointsPerMM/box.H
	page := affine{
		kx, 0, 0, -ky,
		m.X*pointsPerMM - box.X*kx, (a.height-m.Y)*pointsPerMM + box.Y*ky,
	}
	a.page = a.tagger.figure(a.page, m.Alt, [4]float64{m.X, m.Y, m.W, m.H})
	a.page = append(a.page, "q "...)
	a.box(m.X, m.Y, m.W, m.H)
	a.page = append(a.page, "W n"...) // nothing leaves the box
	for i := range icon.SVGPaths {
		if a.page, err = shape(a.page, &icon.SVGPaths[i], page); err != nil {
			return err
		}
	}
	a.page = append(a.page, '\n')
	before := a.held
	if err := a.words(m.Data, page); err != nil {
		return err
	}
	a.held = before
	a.page = append(a.page, "Q\n"...) // the pen and the type of the page come back
	return nil
}

// oneScale is a scale that is the same both ways.
var oneScale = regexp.MustCompile(`\bscale\(\s*([-+.0-9eE]+)\s*\)`)

// affine is a transform: x′ = a x + c y + e, y′ = b x + d y + f.
type affine struct{ a, b, c, d, e, f float64 }

func (m affine) apply(x, y float64) (float64, float64) {
	return m.a*x + m.c*y + m.e, m.b*x + m.d*y + m.f
}

// after is the transform that does n first, then m.
func (m affine) after(n affine) affine {
	var o affine
	o.e, o.f = m.apply(n.e, n.f)
	o.a, o.b = m.a*n.a+m.c*n.b, m.b*n.a+m.d*n.b
	o.c, o.d = m.a*n.c+m.c*n.d, m.b*n.c+m.d*n.d
	return o
}

// scale is how much longer lines become, on the whole.
func (m affine) scale() float64 { return math.Sqrt(math.Abs(m.a*m.d - m.b*m.c)) }

// shape writes one path of a drawing with its pen and colours behind b.
func shape(b []byte, p *oksvg.SvgPath, page affine) ([]byte, error) {
	look := probe(p)
	if look.own.scale() < 1e-6 {
		return b, errors.New("the drawing shrinks a part of it to nothing")
	}
	total := page.after(look.own)
	if len(p.Path) == 0 || look.fill == nil && look.line == nil {
		_, err := outline(nil, p.Path, total)
		return b, err
	}
	b = append(b, '\n')
	paint := "S"
	if look.fill != nil {
		paint = "f"
		if look.line != nil {
			paint = "B"
		}
		b = append(appendShares(b, look.fill), "rg "...)
		if !p.UseNonZeroWinding {
			paint += "*"
		}
	}
	if look.line != nil {
		k := total.scale()
		b = append(appendShares(b, look.line), "RG "...)
		b = append(appendNumber(b, p.LineWidth*k), " w "...)
		b = append(b, '0'+capStyle(p.LineCap), ' ', 'J', ' ', '0'+joinStyle(p.LineJoin), ' ', 'j', ' ')
		if p.MiterLimit >= 1 {
			b = append(appendNumber(b, p.MiterLimit), " M "...)
		}
		b = append(appendDash(b, p.Dash, k), ' ')
		b = append(appendNumber(b, p.DashOffset*k), " d "...)
	}
	b, err := outline(b, p.Path, total)
	return append(b, paint...), err
}

// appendDash writes the lengths of dashes and gaps; a line without any dash is solid.
func appendDash(b []byte, dash []float64, k float64) []byte {
	b = append(b, '[')
	begun, on := len(b), 0.0
	for i, v := range dash {
		if i > 0 {
			b = append(b, ' ')
		}
		b = appendNumber(b, max(v, 0)*k)
		on += max(v, 0)
	}
	if on == 0 {
		b = b[:begun]
	}
	return append(b, ']')
}

// outline writes a path in points of the page behind b.
func outline(b []byte, path rasterx.Path, m affine) ([]byte, error) {
	at := func(i int) (float64, float64) { return m.apply(float64(path[i])/64, float64(path[i+1])/64) }
	put := func(x, y float64) {
		b = append(appendNumber(b, x), ' ')
		b = append(appendNumber(b, y), ' ')
	}
	x, y := 0.0, 0.0
	for i := 0; i < len(path); {
		switch rasterx.PathCommand(path[i]) {
		case rasterx.PathMoveTo:
			x, y = at(i + 1)
			put(x, y)
			b = append(b, "m "...)
			i += 3
		case rasterx.PathLineTo:
			x, y = at(i + 1)
			put(x, y)
			b = append(b, "l "...)
			i += 3
		case rasterx.PathQuadTo: // the format has cubic curves only: the same curve, its degree raised
			cx, cy := at(i + 1)
			ex, ey := at(i + 3)
			put(x+(cx-x)*2/3, y+(cy-y)*2/3)
			put(ex+(cx-ex)*2/3, ey+(cy-ey)*2/3)
			put(ex, ey)
			b = append(b, "c "...)
			x, y = ex, ey
			i += 5
		case rasterx.PathCubicTo:
			for n := 1; n <= 5; n += 2 {
				x, y = at(i + n)
				put(x, y)
			}
			b = append(b, "c "...)
			i += 7
		case rasterx.PathClose:
			b = append(b, "h "...)
			i++
		default:
			return b, errors.New("the drawing has a line of a kind that can't be drawn")
		}
		if math.IsNaN(x+y) || math.Abs(x) > 1e6 || math.Abs(y) > 1e6 {
			return b, errors.New("the drawing reaches too far")
		}
	}
	return b, nil
}

func appendShares(b []byte, c *sheet.Colour) []byte {
	for _, v := range [3]uint8{c.R, c.G, c.B} {
		b = append(appendNumber(b, float64(v)/255), ' ')
	}
	return b
}

// capStyle and joinStyle are the numbers that the format has for the ends and corners of lines. The library's ends are
// functions, which can only be told apart by where they stand.
func capStyle(f rasterx.CapFunc) byte {
	if f == nil {
		return 0
	}
	switch reflect.ValueOf(f).Pointer() {
	case reflect.ValueOf(rasterx.RoundCap).Pointer():
		return 1
	case reflect.ValueOf(rasterx.SquareCap).Pointer():
		return 2
	}
	return 0
}

func joinStyle(j rasterx.JoinMode) byte {
	switch j {
	case rasterx.Round, rasterx.Arc, rasterx.ArcClip:
		return 1
	case rasterx.Bevel:
		return 2
	}
	return 0
}

// look is what the library keeps to itself about a path: its own transform, and its colours, nil where it has none.
type look struct {
	own        affine
	fill, line *sheet.Colour
}

// probeScale makes the probe large, since the library rounds to 1/64.
const probeScale = 16

// probe finds out how a path looks by having the library draw something else with it: two sides of its frame.
func probe(p *oksvg.SvgPath) look {
	left, top, right, bottom := frame(p.Path)
	right, bottom = max(right, left+100), max(bottom, top+100)
	copied := *p
	copied.Path = nil
	copied.Dash = nil // tiny ones would keep the library busy for ever
	copied.Path.Start(rasterx.ToFixedP(left, top))
	copied.Path.Line(rasterx.ToFixedP(right, top))
	copied.Path.Line(rasterx.ToFixedP(left, bottom))
	draw := func() *listener {
		l := &listener{}
		pen := rasterx.NewDasher(1, 1, l)
		l.windings = 0 // a new pen calls it too
		copied.DrawTransformed(pen, 1, rasterx.Identity.Scale(probeScale, probeScale))
		return l
	}
	colours := draw()
	copied.SetFillColor(color.Black)
	copied.SetLineColor(nil)
	pts := draw().points
	out := look{fill: colours.fill, line: colours.line}
	w, h := (right-left)*probeScale, (bottom-top)*probeScale
	out.own.a, out.own.b = (pts[1][0]-pts[0][0])/w, (pts[1][1]-pts[0][1])/w
	out.own.c, out.own.d = (pts[2][0]-pts[0][0])/h, (pts[2][1]-pts[0][1])/h
	out.own.e = pts[0][0]/probeScale - out.own.a*left - out.own.c*top
	out.own.f = pts[0][1]/probeScale - out.own.b*left - out.own.d*top
	return out
}

// frame gives left, top, right and bottom of a path, by its points and the handles of its curves.
func frame(path rasterx.Path) (left, top, right, bottom float64) {
	first := true
	for i := 0; i < len(path); {
		n := 0
		switch rasterx.PathCommand(path[i]) {
		case rasterx.PathMoveTo, rasterx.PathLineTo:
			n = 2
		case rasterx.PathQuadTo:
			n = 4
		case rasterx.PathCubicTo:
			n = 6
		}
		for k := i + 1; k < i+1+n; k += 2 {
			x, y := float64(path[k])/64, float64(path[k+1])/64
			if first {
				left, top, right, bottom, first = x, y, x, y, false
			}
			left, top, right, bottom = min(left, x), min(top, y), max(right, x), max(bottom, y)
		}
		i += 1 + n
	}
	return left, top, right, bottom
}

// listener stands where the library expects something that fills outlines with pixels, and notes what it is told.
type listener struct {
	points     [3][2]float64 // the first ones, all that is asked for
	heard      int           // points in all
	extent     fixed.Rectangle26_6
	windings   int // calls of SetWinding: one before an area is filled, one after it
	fill, line *sheet.Colour
}

// Start begins an outline.
func (l *listener) Start(a fixed.Point26_6) { l.Line(a) }

// Line goes on in a straight line.
func (l *listener) Line(b fixed.Point26_6) {
	if l.heard < len(l.points) {
		l.points[l.heard] = [2]float64{float64(b.X) / 64, float64(b.Y) / 64}
	}
	l.heard++
	at := fixed.Rectangle26_6{Min: b, Max: b.Add(fixed.Point26_6{X: 1, Y: 1})}
	l.extent = l.extent.Union(at)
}

// SetWinding says how an area is filled: only areas have it called.
func (l *listener) SetWinding(bool) { l.windings++ }

// SetColor takes a colour, or a function that gives one for each place.
func (l *listener) SetColor(v any) {
	var seen *sheet.Colour
	switch c := v.(type) {
	case color.Color:
		seen = overWhite(c)
	case rasterx.ColorFunc:
		middle := l.extent.Min.Add(l.extent.Max)
		seen = overWhite(c(middle.X.Round()/2, middle.Y.Round()/2))
	}
	if l.windings == 1 {
		l.fill = seen
		return
	}
	l.line = seen
}

// overWhite lays a colour over white; it gives nil for what can't be seen.
func overWhite(c color.Color) *sheet.Colour {
	red, green, blue, alpha := c.RGBA()
	if alpha == 0 {
		return nil
	}
	over := func(v uint32) uint8 { return uint8((v + 0xffff - alpha) >> 8) }
	return &sheet.Colour{R: over(red), G: over(green), B: over(blue)}
}

// The rest is part of what the library expects, with nothing to do here.

// Draw does nothing.
func (l *listener) Draw() {}

// GetPathExtent tells how far the outlines reach.
func (l *listener) GetPathExtent() fixed.Rectangle26_6 { return l.extent }

// SetBounds does nothing.
func (l *listener) SetBounds(int, int) {}

// SetClip does nothing.
func (l *listener) SetClip(image.Rectangle) {}

// Clear forgets the outlines.
func (l *listener) Clear() { l.heard, l.extent = 0, fixed.Rectangle26_6{} }
