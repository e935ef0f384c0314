package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	_ "image/jpeg" // one of the two kinds that are read
	"image/png"
	"math"

	"github.com/go-pdf/fpdf"
	"github.com/srwiley/oksvg"
	"github.com/srwiley/rasterx"

	"refitcard/render/sheet"
)

const (
	// mostPixels is how large a picture may be: 40 million pixels take 160 MB while it is read.
	mostPixels = 40_000_000
	// drawingDots is how finely a drawing is turned into pixels, in dots a millimetre: 600 to the inch, at which edges
	// look as sharp as the printer makes them.
	drawingDots = 600 / 25.4
	// longestSide is where that ends, in pixels, for drawings that fill a large page.
	longestSide = 6000
)

// image puts a picture into its box.
func (a *artist) image(m sheet.Image) error {
	what := fmt.Sprintf("the picture %q", m.Key)
	if err := finite(what, m.X, m.Y, m.W, m.H); err != nil {
		return err
	}
	if m.W <= 0 || m.H <= 0 {
		return fmt.Errorf("%s has no size", what)
	}
	kind := map[string]string{"png": "PNG", "jpeg": "JPEG", "svg": "PNG"}[m.Type]
	if !a.images[m.Key] {
		data, err := readable(m)
		if err != nil {
			return fmt.Errorf("%s: %w", what, err)
		}
		a.pdf.RegisterImageOptionsReader(m.Key, fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
		a.images[m.Key] = true
	}
	a.raw(a.tagger.figure(m.Alt, [4]float64{m.X, m.Y, m.W, m.H}))
	a.pdf.ImageOptions(m.Key, m.X, m.Y, m.W, m.H, false, fpdf.ImageOptions{ImageType: kind}, 0, "")
	return nil
}

// readable gives the bytes of a picture as fpdf can read them: it panics on damaged ones and refuses some good ones.
func readable(m sheet.Image) ([]byte, error) {
	switch m.Type {
	case "svg":
		drawn, err := rasterise(m.Data, m.W, m.H)
		if err != nil {
			return nil, err
		}
		return plainPNG(drawn)
	case "png", "jpeg":
	default:
		return nil, fmt.Errorf("%q is no kind of picture that can be drawn: use png, jpeg or svg", m.Type)
	}
	config, kind, err := image.DecodeConfig(bytes.NewReader(m.Data))
	if err != nil || kind != m.Type {
		return nil, fmt.Errorf("the file can't be read as %s", m.Type)
	}
	if config.Width*config.Height > mostPixels {
		return nil, fmt.Errorf("%d by %d pixels are too many: make it smaller", config.Width, config.Height)
	}
	decoded, _, err := image.Decode(bytes.NewReader(m.Data))
	if err != nil {
		return nil, fmt.Errorf("the file is cut off or damaged (%w)", err)
	}
	if kind == "jpeg" {
		return m.Data, nil // kept as it is: packing it anew would lose sharpness
	}
	return plainPNG(decoded)
}

// plainPNG writes a picture with 8 bits a channel, not interlaced: the kinds of PNG that fpdf reads.
func plainPNG(m image.Image) ([]byte, error) {
	var out draw.Image
	switch {
	case m.ColorModel() == color.GrayModel:
		return encode(m)
	case opaque(m):
		out = image.NewRGBA(m.Bounds())
	default:
		out = image.NewNRGBA(m.Bounds())
	}
	draw.Draw(out, m.Bounds(), m, m.Bounds().Min, draw.Src)
	return encode(out)
}

func opaque(m image.Image) bool {
	o, ok := m.(interface{ Opaque() bool })
	return ok && o.Opaque()
}

func encode(m image.Image) ([]byte, error) {
	var b bytes.Buffer
	err := png.Encode(&b, m)
	return b.Bytes(), err
}

// rasterise turns a drawing into pixels on white paper, for a box of so many mm.
func rasterise(data []byte, w, h float64) (m image.Image, err error) {
	defer func() {
		if r := recover(); r != nil {
			m, err = nil, errors.New("the drawing can't be read")
		}
	}()
	if bytes.Contains(data, []byte("<text")) {
		return nil, errors.New("the drawing holds letters, which would be lost: turn them into paths")
	}
	icon, err := oksvg.ReadIconStream(bytes.NewReader(data), oksvg.IgnoreErrorMode)
	if err != nil {
		return nil, errors.New("the file can't be read as svg")
	}
	if icon.ViewBox.W <= 0 || icon.ViewBox.H <= 0 {
		return nil, errors.New("the drawing has no size: give it a viewBox")
	}
	dots := min(drawingDots, longestSide/max(w, h))
	wide, high := int(math.Ceil(w*dots)), int(math.Ceil(h*dots))
	out := image.NewRGBA(image.Rect(0, 0, wide, high))
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	icon.SetTarget(0, 0, float64(wide), float64(high))
	icon.Draw(rasterx.NewDasher(wide, high, rasterx.NewScannerGV(wide, high, out, out.Bounds())), 1)
	return grey(out), nil
}

// grey drops the colours of a picture that has none: a third of the size.
func grey(m *image.RGBA) image.Image {
	for i := 0; i < len(m.Pix); i += 4 {
		if m.Pix[i] != m.Pix[i+1] || m.Pix[i] != m.Pix[i+2] {
			return m
		}
	}
	out := image.NewGray(m.Bounds())
	draw.Draw(out, out.Bounds(), m, image.Point{}, draw.Src)
	return out
}
