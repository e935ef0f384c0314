package pdf

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/srwiley/oksvg"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
	"refitcard/render/sheet"
)

// manner is how letters of a drawing look at one place of it: what elements hand down to those within them.
type manner struct {
	own    affine // to the units of the drawing
	size   float64
	anchor string
	bold   bool
	middle bool          // y is the middle of the letters, not their baseline
	fill   *sheet.Colour // nil: none
}

// lettering puts the letters of a drawing over it, in the faces of the sheet: numbers of call-outs, short labels. The
// library that reads drawings passes over them. What bends letters or lays them along a path is refused.
type lettering struct {
	artist *artist
	page   affine
	stack  []manner
	inText int     // how many elements deep in a text, 0: in none
	x, y   float64 // where the next letters stand
}

// words draws all letters of a drawing; page leads from the units of the drawing to points.
func (a *artist) words(data []byte, page affine) error {
	if !bytes.Contains(data, []byte("<text")) {
		return nil
	}
	w := lettering{artist: a, page: page, stack: []manner{{own: affine{a: 1, d: 1}, size: 16, fill: &sheet.Colour{}}}}
	d := xml.NewDecoder(bytes.NewReader(data))
	hidden := 0 // how many elements deep in what is not shown
	for {
		token, err := d.Token()
		if err != nil {
			return nil // the library has read it before: this is the end
		}
		switch t := token.(type) {
		case xml.StartElement:
			if hidden > 0 || unseen[t.Name.Local] {
				hidden++
				continue
			}
			if err := w.open(t); err != nil {
				return err
			}
		case xml.EndElement:
			if hidden > 0 {
				hidden--
				continue
			}
			w.stack = w.stack[:len(w.stack)-1]
			w.inText = max(w.inText-1, 0)
		case xml.CharData:
			if hidden == 0 && w.inText > 0 {
				if err := w.put(string(t)); err != nil {
					return err
				}
			}
		}
	}
}

// unseen are elements whose letters are not shown where they stand.
var unseen = map[string]bool{"defs": true, "title": true, "desc": true, "style": true, "metadata": true, "symbol": true}

func (w *lettering) open(t xml.StartElement) error {
	m := w.stack[len(w.stack)-1]
	name := t.Name.Local
	if w.inText > 0 || name == "text" {
		w.inText++
	}
	if name == "text" {
		w.x, w.y = 0, 0
	}
	var shift float64
	for _, p := range pairs(t.Attr) {
		if err := m.set(p[0], p[1]); err != nil {
			return err
		}
	}
	if w.inText > 0 {
		for _, p := range t.Attr {
			v := length(p.Value, m.size)
			switch p.Name.Local {
			case "x":
				w.x = v
			case "y":
				w.y = v
			case "dx":
				w.x += v
			case "dy":
				shift = v
			}
		}
		w.y += shift
	}
	w.stack = append(w.stack, m)
	return nil
}

// pairs gives the properties of an element: its attributes, then what its style says, which goes before them.
func pairs(attrs []xml.Attr) (out [][2]string) {
	for _, a := range attrs {
		out = append(out, [2]string{a.Name.Local, strings.TrimSpace(a.Value)})
	}
	for _, a := range attrs {
		if a.Name.Local != "style" {
			continue
		}
		for s := range strings.SplitSeq(a.Value, ";") {
			if k, v, ok := strings.Cut(s, ":"); ok {
				out = append(out, [2]string{strings.TrimSpace(k), strings.TrimSpace(v)})
			}
		}
	}
	return out
}

func (m *manner) set(key, value string) error {
	switch key {
	case "font-size":
		m.size = length(value, m.size)
	case "font-weight":
		m.bold = value == "bold" || value == "bolder" || value >= "600" && value <= "900"
	case "text-anchor":
		m.anchor = value
	case "dominant-baseline", "alignment-baseline":
		m.middle = value == "central" || value == "middle"
	case "fill":
		if value == "none" {
			m.fill = nil
			return nil
		}
		if c, err := oksvg.ParseSVGColor(value); err == nil && c != nil {
			m.fill = overWhite(c)
		}
	case "transform":
		t, err := transform(value)
		if err != nil {
			return err
		}
		m.own = m.own.after(t)
	}
	return nil
}

// length reads a number with a unit that does not change it, or in shares of the size of the letters; what is none is 0.
func length(s string, size float64) float64 {
	number := strings.TrimRight(strings.Fields(s + " 0")[0], "px,")
	if em, ok := strings.CutSuffix(number, "em"); ok {
		v, _ := strconv.ParseFloat(em, 64)
		return v * size
	}
	v, _ := strconv.ParseFloat(number, 64)
	return v
}

var step = regexp.MustCompile(`([a-zA-Z]+)\s*\(([^)]*)\)`)

// transform reads moves, turns and scales, one after the other.
func transform(s string) (affine, error) {
	out := affine{a: 1, d: 1}
	for _, t := range step.FindAllStringSubmatch(s, -1) {
		var v []float64
		for _, f := range strings.FieldsFunc(t[2], func(r rune) bool { return r == ',' || r == ' ' || r == '\n' || r == '\t' }) {
			n, err := strconv.ParseFloat(f, 64)
			if err != nil {
				return out, errors.New("the drawing moves its letters by what is no number")
			}
			v = append(v, n)
		}
		next, ok := oneTransform(t[1], v)
		if !ok {
			return out, fmt.Errorf("the drawing bends its letters by %s(%s): turn them into paths", t[1], t[2])
		}
		out = out.after(next)
	}
	return out, nil
}

func oneTransform(name string, v []float64) (affine, bool) {
	switch {
	case name == "translate" && len(v) == 1:
		return affine{a: 1, d: 1, e: v[0]}, true
	case name == "translate" && len(v) == 2:
		return affine{a: 1, d: 1, e: v[0], f: v[1]}, true
	case name == "scale" && len(v) == 1:
		return affine{a: v[0], d: v[0]}, true
	case name == "scale" && len(v) == 2:
		return affine{a: v[0], d: v[1]}, true
	case name == "matrix" && len(v) == 6:
		return affine{v[0], v[1], v[2], v[3], v[4], v[5]}, true
	case name == "rotate" && len(v) == 1:
		sin, cos := math.Sincos(v[0] * math.Pi / 180)
		return affine{cos, sin, -sin, cos, 0, 0}, true
	case name == "rotate" && len(v) == 3:
		turn, _ := oneTransform("rotate", v[:1])
		return affine{a: 1, d: 1, e: v[1], f: v[2]}.after(turn).after(affine{a: 1, d: 1, e: -v[1], f: -v[2]}), true
	}
	return affine{}, false
}

// put draws a piece of text and goes on behind it.
func (w *lettering) put(s string) error {
	s = strings.Join(strings.Fields(s), " ")
	m := w.stack[len(w.stack)-1]
	if s == "" || m.fill == nil || !(m.size > 0) {
		return nil
	}
	face := faces.Regular
	if m.bold {
		face = faces.Bold
	}
	runs, missing := letters.Encode(s)
	if len(missing) > 0 {
		return fmt.Errorf("no face has %q (U+%04X), in %q", missing[0].Rune, missing[0].Rune, s)
	}
	wide := faces.Width(face, s, m.size) * pointsPerMM // in units of the drawing
	x, y := w.x, w.y
	switch m.anchor {
	case "middle":
		x -= wide / 2
	case "end":
		x -= wide
	}
	if m.middle {
		y += faces.CapHeight(face) * m.size / 2
	}
	at := w.page.after(m.own).after(affine{a: m.size, d: -m.size, e: x, f: y})
	if !finite(at.a, at.b, at.c, at.d, at.e, at.f) {
		return errors.New("the letters of the drawing reach too far")
	}
	a := w.artist
	a.colour(*m.fill, "rg BT ")
	for _, v := range []float64{at.a, at.b, at.c, at.d, at.e, at.f} {
		a.page = append(appendFine(a.page, v), ' ')
	}
	a.page = append(a.page, "Tm "...)
	for _, r := range runs {
		a.choose(faces.Font{Face: face, Set: r.Set}, 1)
		a.page = append(appendWords(a.page, r.Codes), " Tj "...)
	}
	a.page = append(a.page, "ET\n"...)
	w.x += wide
	return nil
}
