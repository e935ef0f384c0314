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
	"slices"
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
			left, right, top, bottom := p.free(n)
			inside := func(edge float64) int {
				if edge == holed { // a round letter may rise by a part of a dot: no hole is that near
					return holed*dots - 1
				}
				return int(edge * dots)
			}
			inner := image.Rect(inside(left), inside(top), m.Rect.Dx()-inside(right), m.Rect.Dy()-inside(bottom))
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
			if dark < 500 {
				t.Errorf("page %d: only %d dots of ink", n+1, dark)
			}
		}
	})
}

// Text stands out from its ground 7 : 1, a signal word from its colour 4.5 : 1 (WCAG 2.2, 1.4.6 and 1.4.3, for its way of reckoning),
// in colour and in the grey of a copier. DRAFT, which lies under everything, is left out.
func TestTextStandsOut(t *testing.T) {
	const dpi = 150
	pdftoppm := pdftest.Need(t, "pdftoppm", "that text stands out from its ground")
	some := func(list []printedSheet) []printedSheet {
		if os.Getenv("REFITCARD_LONG") != "" {
			return list
		}
		return list[:min(len(list), 3)]
	}
	all := sampled(t)
	a4 := pressed(t, "a4")
	sheets := slices.Concat(some(all.black), some(a4.cards), some(a4.records), some(a4.labels), some(a4.reviews), some(a4.picks))
	for _, p := range sheets {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			r := readBack(t, p.file)
			for _, mode := range []string{"colour", "grey"} {
				args := []string{"-r", fmt.Sprint(dpi)}
				if mode == "grey" {
					args = append(args, "-gray")
				}
				pages := shades(t, []byte(pdftest.Run(t, pdftoppm, append(args, p.file)...)))
				signals := 0
				for _, w := range r.words {
					if w.draft() {
						continue
					}
					least := 7.0
					if slices.Contains([]string{"DANGER", "WARNING", "CAUTION", "NOTICE"}, w.text) {
						least = 4.5
						signals++
					}
					if got := pages[w.page].contrast(w, dpi/25.4); got < least {
						t.Errorf("%s, page %d: %q stands out %.1f : 1", mode, w.page+1, w.text, got)
					}
				}
			}
		})
	}
}

// A shade holds how bright each dot of a page is, from 0 for black to 1 for white, as WCAG reckons it.
type shade struct {
	wide, high int
	bright     []float32
}

// linear turns a part of a colour in sRGB into brightness (IEC 61966-2-1, as WCAG 2.2 has it).
var linear = func() (table [256]float32) {
	for i := range table {
		v := float64(i) / 255
		if v <= 0.04045 {
			table[i] = float32(v / 12.92)
			continue
		}
		table[i] = float32(math.Pow((v+0.055)/1.055, 2.4))
	}
	return table
}()

// shades reads pages in colour or grey, as pdftoppm writes them (PPM and PGM, with one byte a part).
func shades(t *testing.T, data []byte) []*shade {
	t.Helper()
	var pages []*shade
	for len(data) > 0 {
		var kind string
		var w, h, most, n int
		if _, err := fmt.Sscanf(string(data[:min(40, len(data))]), "%s\n%d %d\n%d\n", &kind, &w, &h, &most); err != nil || most != 255 || kind != "P5" && kind != "P6" {
			t.Fatalf("no picture of pages: %v, %q", err, data[:min(40, len(data))])
		}
		for lines := 0; lines < 3; n++ {
			if data[n] == '\n' {
				lines++
			}
		}
		data = data[n:]
		s := &shade{w, h, make([]float32, w*h)}
		for i := range s.bright {
			if kind == "P5" {
				s.bright[i] = linear[data[i]]
				continue
			}
			s.bright[i] = 0.2126*linear[data[3*i]] + 0.7152*linear[data[3*i+1]] + 0.0722*linear[data[3*i+2]]
		}
		data = data[w*h*map[string]int{"P5": 1, "P6": 3}[kind]:]
		pages = append(pages, s)
	}
	return pages
}

// contrast is that of the darkest and the brightest dot where a word stands; dots to the mm.
func (s *shade) contrast(w readWord, dots float64) float64 {
	dark, light := float32(1), float32(0)
	for y := max(int(w.top*dots), 0); y <= min(int(w.base*dots), s.high-1); y++ {
		for x := max(int(w.left*dots), 0); x <= min(int(w.right*dots), s.wide-1); x++ {
			b := s.bright[y*s.wide+x]
			dark, light = min(dark, b), max(light, b)
		}
	}
	return float64((light + 0.05) / (dark + 0.05))
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
