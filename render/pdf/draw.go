package pdf

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"sync"
	"time"

	"github.com/go-pdf/fpdf"

	"refitcard/render/faces"
	"refitcard/render/sheet"
)

const (
	pointsPerMM = 72 / 25.4
	millimetre  = 25.4 / 72 // of a point
)

// drawing is what the first pass gives: the file as fpdf wrote it, and what its marked pieces mean.
type drawing struct {
	raw   []byte
	marks []mark
	seen  [3]bool // faces that are used
}

// artist draws the operations of a sheet with fpdf, and remembers what pen and type it holds.
type artist struct {
	pdf       *fpdf.Fpdf
	height    float64 // of the page in mm
	face      sheet.Face
	size      float64 // pt, 0: no type chosen yet
	width     float64 // mm, of the pen
	join      string
	images    map[string]bool // keys of the pictures that fpdf knows
	tagger    tagger
	seen      [3]bool
	hasColour bool
	stroke    sheet.Colour
	fill      sheet.Colour
}

// longAgo stands where the format wants a time: a card must not change because it was made again.
var longAgo = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func paint(d *sheet.Document) (*drawing, error) {
	p := fpdf.NewCustom(&fpdf.InitType{
		OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: d.Width, Ht: d.Height},
	})
	p.SetCompression(false) // the finisher packs what it keeps
	p.SetCatalogSort(true)
	p.SetCreationDate(longAgo)
	p.SetModificationDate(longAgo)
	p.SetProducer("", false)
	p.SetMargins(0, 0, 0)
	p.SetAutoPageBreak(false, 0)
	a := &artist{pdf: p, height: d.Height, images: map[string]bool{}, join: "miter"}
	for n, page := range d.Pages {
		p.AddPage()
		a.tagger.turn(n)
		for _, op := range page.Ops {
			if err := a.op(op); err != nil {
				return nil, fmt.Errorf("page %d: %w", n+1, err)
			}
			if p.Err() {
				return nil, fmt.Errorf("page %d: %w", n+1, p.Error())
			}
		}
		a.raw(a.tagger.close())
	}
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		return nil, err
	}
	return &drawing{b.Bytes(), a.tagger.marks, a.seen}, nil
}

func (a *artist) raw(s string) {
	if s != "" {
		a.pdf.RawWriteStr(s)
	}
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

// finite tells whether every number is one: not a number and infinity would end up in the file as words.
func finite(what string, numbers ...float64) error {
	for _, v := range numbers {
		if math.IsNaN(v) || math.Abs(v) > 1e6 {
			return fmt.Errorf("%s stands at or measures %g, which can't be drawn", what, v)
		}
	}
	return nil
}

func (a *artist) text(t sheet.Text) error {
	if err := finite(fmt.Sprintf("%q", t.String), t.X, t.Y, t.Size, t.Angle, t.Hollow); err != nil {
		return err
	}
	codes, missing := faces.Encode(t.String)
	if len(missing) > 0 {
		m := missing[0]
		return fmt.Errorf("no face has %q (U+%04X), in %q: write it another way", m.Rune, m.Rune, t.String)
	}
	if len(codes) == 0 {
		return nil
	}
	if t.Face < 0 || int(t.Face) >= len(a.seen) {
		return fmt.Errorf("%q asks for face number %d, which is none", t.String, t.Face)
	}
	a.raw(a.tagger.text(t))
	a.choose(t.Face, t.Size)
	a.pdf.SetTextColor(int(t.Colour.R), int(t.Colour.G), int(t.Colour.B))
	if t.Hollow > 0 {
		a.pen(t.Hollow, t.Colour, "round")
		a.pdf.SetTextRenderingMode(1)
	}
	if t.Angle != 0 {
		a.pdf.TransformBegin()
		a.pdf.TransformRotate(t.Angle, t.X, t.Y)
	}
	a.pdf.Text(t.X, t.Y, string(codes))
	if t.Angle != 0 {
		a.pdf.TransformEnd()
	}
	if t.Hollow > 0 {
		a.pdf.SetTextRenderingMode(0)
	}
	return nil
}

// choose takes a face and a size, and has fpdf read the face when it is first used.
func (a *artist) choose(f sheet.Face, size float64) {
	if a.seen[f] && a.face == f && a.size == size {
		return
	}
	if !a.seen[f] {
		outlines, _ := faces.Outlines(f)
		a.pdf.AddFontFromBytes(faces.Name(f), "", definitions()[f], outlines)
		a.seen[f] = true
	}
	a.face, a.size = f, size
	a.pdf.SetFont(faces.Name(f), "", size)
}

// definitions describe the faces as fpdf's own tool for baking fonts would. They are the same for all sheets.
var definitions = sync.OnceValue(func() (out [][]byte) {
	for _, f := range faces.All() {
		out = append(out, definition(f))
	}
	return out
})

func definition(f sheet.Face) []byte {
	m := faces.Measures(f)
	_, length := faces.Outlines(f)
	b, err := json.Marshal(map[string]any{
		"Tp": "TrueType", "Name": faces.Name(f), "Enc": "refitcard", "Diff": differences(),
		"File": faces.Name(f) + ".z", "OriginalSize": length, "Cw": m.Advances[:], "Up": -100, "Ut": 50,
		"Desc": map[string]any{
			"Ascent": m.Ascent, "Descent": m.Descent, "CapHeight": m.CapHeight, "StemV": m.StemV, "Flags": 32,
			"FontBBox": map[string]int{"Xmin": m.Box[0], "Ymin": m.Box[1], "Xmax": m.Box[2], "Ymax": m.Box[3]},
		},
	})
	if err != nil {
		panic(err) // numbers and strings can always be written
	}
	return b
}

// differences names the glyphs of the codes that differ from WinAnsiEncoding: those of characters outside Windows-1252.
func differences() string {
	var b strings.Builder
	for code := 0x80; code < 256; code++ {
		if r := faces.Rune(byte(code)); r > 0xff && !inWindows1252(r) {
			fmt.Fprintf(&b, "%d /uni%04X ", code, r)
		}
	}
	return strings.TrimSuffix(b.String(), " ")
}

// inWindows1252 tells whether a character beyond U+00FF keeps the place that code page 1252 gives it.
func inWindows1252(r rune) bool {
	return strings.ContainsRune("€‚„…‰Š‹ŒŽ‘’“”•–—™š›œžŸ", r)
}
