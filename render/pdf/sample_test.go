package pdf_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

// ring is a drawing: a flange with its bolts.
const ring = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><g fill="none" stroke="black" stroke-width="3">
<circle cx="50" cy="50" r="45"/><circle cx="50" cy="50" r="20"/></g>
<circle cx="50" cy="16" r="6"/><circle cx="84" cy="50" r="6"/><circle cx="50" cy="84" r="6"/><circle cx="16" cy="50" r="6"/></svg>`

// payload is what the scan code of the sample says.
const payload = "SD-114 C 4F7K29QD"

// sample is a sheet that uses every kind of operation.
func sample(t testing.TB) *sheet.Document {
	t.Helper()
	code, err := sheet.ScanCode(payload)
	if err != nil {
		t.Fatal(err)
	}
	red := sheet.Colour{R: 200}
	words := func(x, y float64, f sheet.Face, size float64, s string, r sheet.Role, block int) sheet.Text {
		return sheet.Text{X: x, Y: y, Face: f, Size: size, String: s, Role: r, Block: block}
	}
	first := []sheet.Op{
		sheet.Text{X: 30, Y: 130, Face: sheet.Bold, Size: 80, String: "DRAFT", Colour: sheet.Grey(0.65), Role: sheet.Artifact, Angle: 45, Hollow: 1.5},
		words(12, 17, sheet.Bold, 13.5, "SD-114", sheet.Paragraph, 1),
		words(40, 17, sheet.Regular, 11, "revision C", sheet.Paragraph, 2),
		words(12, 26, sheet.Bold, 20, "Refit the drain pump's cover", sheet.Heading1, 3),
		words(12, 33, sheet.Mono, 9, "4F7K29QD 0O 1lI", sheet.Artifact, 0),
		sheet.Line{X1: 12, Y1: 36, X2: 136, Y2: 36, Width: 2.5},
		sheet.Modules{X: 123, Y: 12, Size: 0.6, Dark: code, Alt: "scan code: " + payload},
		sheet.Rect{X: 12, Y: 44, W: 7, H: 7, Stroke: 1.1},
		words(22, 49, sheet.Regular, 13.7, "Fit ", "", 4),
		words(30.5, 49, sheet.Bold, 13.7, "4 bolts M8 × 25", "", 4),
		words(22, 55.5, sheet.Regular, 13.7, "through the cover, ⌀ 9 ≤ 9.2 → Ω ∠ ✓ ☐ ☑ ⚠", "", 4),
		sheet.Rect{X: 95, Y: 40, W: 41, H: 20, Stroke: 2, Filled: true, Fill: sheet.Grey(0.95)},
		words(99, 50, sheet.Bold, 22, "22 N·m", "", 5),
		words(99, 57, sheet.Regular, 11, "16 lbf·ft", "", 6),
		sheet.Polygon{Points: []sheet.Point{{X: 20, Y: 66}, {X: 28, Y: 80}, {X: 12, Y: 80}}, Stroke: 3, Colour: red, Round: 1},
		sheet.Polygon{Points: []sheet.Point{{X: 32, Y: 70}, {X: 37, Y: 73}, {X: 32, Y: 76}}, Filled: true},
		sheet.Circle{X: 50, Y: 73, R: 6, Stroke: 2.6, Filled: true, Fill: sheet.Grey(0.8)},
		sheet.Line{X1: 60, Y1: 66, X2: 100, Y2: 80, Width: 0.4, Dash: []float64{2, 1}},
		sheet.Image{X: 12, Y: 84, W: 30, H: 30, Key: "ring", Type: "svg", Data: []byte(ring), Alt: "the cover with its four bolts"},
		sheet.Image{X: 46, Y: 84, W: 30, H: 15, Key: "clear", Type: "png", Data: picture(t, "png")},
		sheet.Image{X: 80, Y: 84, W: 30, H: 15, Key: "photo", Type: "jpeg", Data: picture(t, "jpeg"), Alt: "a band of colours"},
	}
	second := []sheet.Op{
		words(12, 20, sheet.Bold, 17, "After the job", sheet.Heading2, 7),
		words(12, 30, sheet.Regular, 13.7, "Open the sluice gate (½ turn) \\ wait", "", 8),
		sheet.Image{X: 12, Y: 40, W: 10, H: 10, Key: "ring", Type: "svg", Data: []byte(ring), Alt: "the cover again"},
	}
	return &sheet.Document{
		Title: "Refit the drain pump's cover (Ω)", Language: "en-GB", Number: "SD-114", Revision: "C", Width: 148, Height: 140,
		Pages:     []sheet.Page{{Ops: first}, {Ops: second}},
		Bookmarks: []sheet.Bookmark{{Title: "Before you start", Page: 0, Y: 40}, {Title: "After the job – (✓)", Page: 1, Y: 15}},
		Attachments: []sheet.Attachment{
			{Name: "sd-114.md", Description: "the source of this card", Type: "text/markdown", Data: []byte("# Refit the drain pump's cover\n")},
			{Name: "höhe (2).json", Description: "what was made of it", Type: "application/json", Data: bytes.Repeat([]byte(`{"a":1}`), 1000)},
		},
	}
}

// picture makes a small picture: half of the PNG is see-through.
func picture(t testing.TB, kind string) []byte {
	t.Helper()
	m := image.NewNRGBA(image.Rect(0, 0, 60, 30))
	for y := range 30 {
		for x := range 60 {
			alpha := uint8(255)
			if kind == "png" && x < 30 {
				alpha = 60
			}
			m.Set(x, y, color.NRGBA{uint8(4 * x), uint8(8 * y), 120, alpha})
		}
	}
	var b bytes.Buffer
	err := png.Encode(&b, m)
	if kind == "jpeg" {
		b.Reset()
		err = jpeg.Encode(&b, m, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// written gives the bytes of a sheet.
func written(t testing.TB, d *sheet.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
