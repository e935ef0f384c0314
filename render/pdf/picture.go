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
	"strconv"
	"time"

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
		if err := a.vectors(m); err != nil {
			return fmt.Errorf("%s: %w", what, err)
		}
		return nil
	}
	known, err := a.album.add(m)
	if err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	a.page = a.tagger.figure(a.page, m.Alt, [4]float64{m.X, m.Y, m.W, m.H})
	a.page = append(a.page, "q "...)
	a.page = append(appendNumber(a.page, m.W*pointsPerMM), " 0 0 "...)
	a.page = append(appendNumber(a.page, m.H*pointsPerMM), ' ')
	a.at(m.X, m.Y+m.H)
	a.page = append(append(append(a.page, " cm /"...), known...), " Do Q\n"...)
	return nil
}

// album has fpdf pack the pictures of a sheet: each is shown once on a page of a file that is never seen.
type album struct {
	pdf   *fpdf.Fpdf      // nil without pictures
	names map[string]name // by which the pages call them, by their keys
}

// longAgo stands where fpdf wants a time.
var longAgo = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// add takes a picture in and gives its name; one that is known by its key is not looked at again.
func (a *album) add(m sheet.Image) (name, error) {
	if known, ok := a.names[m.Key]; ok {
		return known, nil
	}
	data, kind, err := shown.readable(m)
	if err != nil {
		return "", err
	}
	if a.pdf == nil {
		a.names = map[string]name{}
		a.pdf = fpdf.New("P", "mm", "A4", "")
		a.pdf.SetCompression(false)
		a.pdf.SetCatalogSort(true)
		a.pdf.SetCreationDate(longAgo)
		a.pdf.SetModificationDate(longAgo)
		a.pdf.AddPage()
	}
	how := fpdf.ImageOptions{ImageType: kind}
	a.pdf.RegisterImageOptionsReader(m.Key, how, bytes.NewReader(data))
	a.pdf.ImageOptions(m.Key, 0, 0, 1, 1, false, how, 0, "")
	if a.pdf.Err() {
		return "", a.pdf.Error()
	}
	a.names[m.Key] = name("P" + strconv.Itoa(len(a.names)+1))
	return a.names[m.Key], nil
}

// open reads the file that fpdf made, and gives the pictures in it in the order in which they were added.
func (a *album) open() (*file, []any, error) {
	var b bytes.Buffer
	if err := a.pdf.Output(&b); err != nil {
		return nil, nil, err
	}
	f, err := open(b.Bytes())
	if err != nil {
		return nil, nil, err
	}
	page, content, err := f.firstPage()
	if err != nil {
		return nil, nil, err
	}
	resources, err := f.dict(page["Resources"])
	if err != nil {
		return nil, nil, err
	}
	pictures, err := f.dict(resources["XObject"])
	if err != nil {
		return nil, nil, err
	}
	var out []any
	var last name
	for p := (&parser{data: content}); p.skip() != 0; {
		v, err := p.value(0)
		if err != nil {
			return nil, nil, err
		}
		switch v := v.(type) {
		case name:
			last = v
		case word:
			if v == "Do" {
				out = append(out, pictures[last])
			}
		}
	}
	if len(out) != len(a.names) {
		return nil, nil, errors.New("the pictures that were packed are not all in the file")
	}
	return f, out, nil
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
	err := (&png.Encoder{BufferPool: &pngEncoders}).Encode(&b, m)
	return b.Bytes(), err
}
