package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"

	"refitcard/render/pdf/pdftest"
)

// In this file another program turns the sheets into pictures, and the pictures are looked at.

// pictures reads pages in grey, as pdftoppm writes them one behind the other (the format PGM, with one byte a dot).
func pictures(t *testing.T, data []byte) []*image.Gray {
	t.Helper()
	var pages []*image.Gray
	for len(data) > 0 {
		var w, h, most, n int
		if _, err := fmt.Sscanf(string(data[:min(40, len(data))]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil || most != 255 {
			t.Fatalf("no picture of pages: %v, %q", err, data[:min(40, len(data))])
		}
		for lines := 0; lines < 3; n++ {
			if data[n] == '\n' {
				lines++
			}
		}
		pages = append(pages, &image.Gray{Pix: data[n : n+w*h], Stride: w, Rect: image.Rect(0, 0, w, h)})
		data = data[n+w*h:]
	}
	return pages
}

// paper is the grey from which on a dot counts as white. Round letters rise 0.07 mm above the flat ones that the layout
// reckons with: a fifth of a dot.
const paper = 190

// The pouch is welded there, and words are not all that is drawn.
func TestNoInkLiesNearTheEdge(t *testing.T) {
	const dots = 3 // to the mm: A4 and A5 are then whole dots wide and high, and so is the edge of 10 mm
	pdftoppm := pdftest.Need(t, "pdftoppm", "that no ink lies near the edge")
	eachSheet(t, (*printedPaper).all, func(t *testing.T, p printedSheet) {
		pages := pictures(t, []byte(pdftest.Run(t, pdftoppm, "-r", fmt.Sprint(dots*25.4), "-gray", p.file)))
		if want := readBack(t, p.file).pages; len(pages) != want {
			t.Fatalf("%d pictures of %d pages", len(pages), want)
		}
		for n, m := range pages {
			inner := m.Rect.Inset(sealed * dots)
			dark := 0
			for y := range m.Rect.Dy() {
				for x := range m.Rect.Dx() {
					if m.GrayAt(x, y).Y > paper {
						continue
					}
					dark++
					if !image.Pt(x, y).In(inner) {
						t.Fatalf("page %d: ink at %.1f, %.1f mm", n+1, float64(x)/dots, float64(y)/dots)
					}
				}
			}
			if dark < 1000 {
				t.Errorf("page %d: only %d dots of ink", n+1, dark)
			}
		}
	})
}

// A telephone is held askew and is not sharp: 150 dots to the inch, blurred over three dots, turned by ten degrees.
func TestEveryScanCodeIsReadAskew(t *testing.T) {
	const dpi, side = 150, 300 // dots of the corner that is looked at
	pdftoppm := pdftest.Need(t, "pdftoppm", "that the scan codes of the sheets can be read askew")
	zbarimg := pdftest.Need(t, "zbarimg", "that the scan codes of the sheets can be read askew")
	eachSheet(t, jobCards, func(t *testing.T, p printedSheet) {
		left := int(math.Round(readBack(t, p.file).width/25.4*dpi)) - side
		out := pdftest.Run(t, pdftoppm, "-r", fmt.Sprint(dpi), "-gray", "-f", "1", "-l", "1",
			"-x", fmt.Sprint(left), "-y", "0", "-W", fmt.Sprint(side), "-H", fmt.Sprint(side), p.file)
		var b bytes.Buffer
		if err := png.Encode(&b, turned(blurred(pictures(t, []byte(out))[0]), 10)); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(t.TempDir(), "code.png")
		if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		got := strings.TrimSpace(pdftest.Run(t, zbarimg, "--quiet", "--raw", name))
		if want := strings.ToUpper(p.card().Header.Payload); got != want {
			t.Errorf("read %q, want %q", got, want)
		}
	})
}

// blurred gives each dot the mean of itself and its eight neighbours.
func blurred(m *image.Gray) *image.Gray {
	out := image.NewGray(m.Rect)
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			sum := 0
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					at := image.Pt(min(max(x+dx, 0), m.Rect.Dx()-1), min(max(y+dy, 0), m.Rect.Dy()-1))
					sum += int(m.GrayAt(at.X, at.Y).Y)
				}
			}
			out.SetGray(x, y, color.Gray{Y: uint8(sum / 9)})
		}
	}
	return out
}

// turned turns a picture about its middle, on white.
func turned(m *image.Gray, degrees float64) *image.Gray {
	out := image.NewGray(m.Rect)
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	mx, my := float64(m.Rect.Dx())/2, float64(m.Rect.Dy())/2
	draw.BiLinear.Transform(out, f64.Aff3{cos, -sin, mx - cos*mx + sin*my, sin, cos, my - sin*mx - cos*my}, m, m.Rect, draw.Over, nil)
	return out
}
