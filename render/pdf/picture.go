package pdf

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	_ "image/jpeg" // one of the two kinds that are read
	"image/png"

	"github.com/go-pdf/fpdf"

	"refitcard/render/sheet"
)

// mostPixels is how large a picture may be, as the compiler has it too: 25 million pixels take 100 to 200 MB while it is
// read.
const mostPixels = 25_000_000

// image puts a picture into its box.
func (a *artist) image(m sheet.Image) error {
	what := fmt.Sprintf("the picture %q", m.Key)
	if !finite(m.X, m.Y, m.W, m.H) {
		return outOfReach(what, m.X, m.Y, m.W, m.H)
	}
	if m.W <= 0 || m.H <= 0 {
		return fmt.Errorf("%s has no size", what)
	}
	if m.Type == "svg" {
		if err := a.drawing(m); err != nil {
			return fmt.Errorf("%s: %w", what, err)
		}
		return nil
	}
	kind, known := a.images[m.Key]
	if !known {
		data, as, err := readable(m)
		if err != nil {
			return fmt.Errorf("%s: %w", what, err)
		}
		kind = as
		a.pdf.RegisterImageOptionsReader(m.Key, fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
		a.images[m.Key] = kind
	}
	a.page = a.tagger.figure(a.page, m.Alt, [4]float64{m.X, m.Y, m.W, m.H})
	a.flush()
	a.pdf.ImageOptions(m.Key, m.X, m.Y, m.W, m.H, false, fpdf.ImageOptions{ImageType: kind}, 0, "")
	return nil
}

// readable gives the bytes of a picture as fpdf can read them, and what fpdf calls its kind: fpdf panics on damaged ones
// and refuses some good ones.
func readable(m sheet.Image) (data []byte, kind string, err error) {
	if m.Type != "png" && m.Type != "jpeg" {
		return nil, "", fmt.Errorf("%q is no kind of picture that can be drawn: use png, jpeg or svg", m.Type)
	}
	config, found, err := image.DecodeConfig(bytes.NewReader(m.Data))
	if err != nil || found != m.Type {
		return nil, "", fmt.Errorf("the file can't be read as %s", m.Type)
	}
	if config.Width*config.Height > mostPixels {
		return nil, "", fmt.Errorf("%d by %d pixels are too many: make it smaller", config.Width, config.Height)
	}
	decoded, _, err := image.Decode(bytes.NewReader(m.Data))
	if err != nil {
		return nil, "", fmt.Errorf("the file is cut off or damaged (%w)", err)
	}
	if m.Type == "jpeg" && config.ColorModel != color.CMYKModel {
		return m.Data, "JPEG", nil // kept as it is: packing it anew would lose sharpness
	}
	data, err = plainPNG(decoded) // the file says what its red, green and blue are, and nothing of printing inks
	return data, "PNG", err
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
