package pdf_test

import (
	"image"
	"image/png"
	"os"
	"strings"
	"testing"

	"refitcard/render/pdf/pdftest"
	"refitcard/render/sheet"
)

// dots is how finely the pages are turned into pixels here: ten to the millimetre.
const dots = 254

// page gives the first page of a sheet as another program draws it.
func page(t *testing.T, d *sheet.Document) image.Image {
	t.Helper()
	pdftoppm := pdftest.Need(t, "pdftoppm", "that ink lies where the sheet says")
	file := pdftest.File(t, "card.pdf", written(t, d))
	picture := strings.TrimSuffix(file, ".pdf")
	pdftest.Run(t, pdftoppm, "-r", "254", "-png", "-singlefile", file, picture)
	f, err := os.Open(picture + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// at gives the grey of a place in mm, 0 black to 255 white.
func at(m image.Image, x, y float64) int {
	r, g, b, _ := m.At(int(x*dots/25.4), int(y*dots/25.4)).RGBA()
	return int(r+g+b) / 3 >> 8
}

func TestInkLiesWhereTheSheetSays(t *testing.T) {
	black := func(x, y float64) [3]float64 { return [3]float64{x, y, 0} }
	white := func(x, y float64) [3]float64 { return [3]float64{x, y, 255} }
	svg := `<svg viewBox="0 0 100 50"><g transform="translate(50 0) scale(.5)"><path d="M20 20H80V80H20Z" fill="none" stroke="black" stroke-width="8"/></g>
<rect x="5" y="5" width="20" height="40" fill="black" fill-opacity="0.5"/></svg>`
	for _, c := range []struct {
		name   string
		op     sheet.Op
		points [][3]float64 // x, y, grey
	}{
		{"a stroke lies wholly inside its box", sheet.Rect{X: 10, Y: 10, W: 20, H: 10, Stroke: 5.67}, [][3]float64{
			black(10.2, 15), black(11.8, 15), white(9.8, 15), white(12.3, 15), black(20, 19.8), white(20, 20.3),
		}},
		{"a filled box", sheet.Rect{X: 10, Y: 10, W: 20, H: 10, Filled: true, Fill: sheet.Grey(0.5)}, [][3]float64{
			{20, 15, 128}, white(9.8, 15), white(30.3, 15),
		}},
		{"a line has its middle between its ends", sheet.Line{X1: 10, Y1: 10, X2: 30, Y2: 10, Width: 5.67}, [][3]float64{
			black(20, 9.2), black(20, 10.8), white(20, 8.8), white(20, 11.2), white(9.7, 10), white(30.3, 10),
		}},
		{"dashes", sheet.Line{X1: 10, Y1: 10, X2: 40, Y2: 10, Width: 5.67, Dash: []float64{4, 2}}, [][3]float64{
			black(12, 10), white(15, 10), black(18, 10), white(21, 10),
		}},
		{"a circle's stroke lies on its radius", sheet.Circle{X: 30, Y: 30, R: 10, Stroke: 5.67}, [][3]float64{
			black(20, 30), black(40, 30), black(30, 20), white(30, 30), white(21.3, 30), white(18.7, 30),
		}},
		{"a solid triangle", sheet.Polygon{Points: []sheet.Point{{X: 10, Y: 10}, {X: 30, Y: 20}, {X: 10, Y: 30}}, Filled: true}, [][3]float64{
			black(11, 20), black(28, 20), white(25, 12), white(9.5, 20),
		}},
		{"squares of a scan code", sheet.Modules{X: 10, Y: 10, Size: 2, Dark: [][]bool{{true, false}, {false, true}}}, [][3]float64{
			black(11, 11), white(13, 11), white(11, 13), black(13, 13), white(15, 13),
		}},
		{"a letter stands on its baseline", sheet.Text{X: 10, Y: 40, Face: sheet.Bold, Size: 100, String: "I"}, [][3]float64{
			black(17, 38), black(17, 20), white(17, 41), white(17, 13),
		}},
		{"a turned letter", sheet.Text{X: 40, Y: 40, Face: sheet.Bold, Size: 100, String: "I", Angle: 90}, [][3]float64{
			black(38, 33), black(20, 33), white(41.5, 33), white(13, 33),
		}},
		{"a drawing, its own transform and the width of its pen", sheet.Image{X: 10, Y: 10, W: 40, H: 20, Key: "k", Type: "svg", Data: []byte(svg)}, [][3]float64{
			{16, 20, 128}, white(11, 20), black(34, 20), white(35.2, 20), white(32.9, 20), black(40, 14), white(40, 20),
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := page(t, one(c.op))
			for _, p := range c.points {
				if got, want := at(m, p[0], p[1]), int(p[2]); got < want-3 || got > want+3 {
					t.Errorf("grey %d at %g, %g mm, want %d", got, p[0], p[1], want)
				}
			}
		})
	}
}

// Dashes so short that they can't be counted make the library that reads drawings run for ever.
func TestADrawingWithTinyDashesIsDrawn(t *testing.T) {
	svg := `<svg viewBox="0 0 100 100"><path d="M0 0H100" stroke="black" stroke-dasharray="1e-300 1e-300"/><path d="M0 0H100" stroke="black" stroke-dasharray="0 0"/></svg>`
	if n := len(written(t, one(sheet.Image{X: 10, Y: 10, W: 40, H: 20, Key: "k", Type: "svg", Data: []byte(svg)}))); n == 0 {
		t.Error("nothing is written")
	}
}
