package pdf_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"refitcard/render/faces"
	"refitcard/render/pdf/pdftest"
	"refitcard/render/sheet"
)

// Numbers of call-outs are letters in most drawings: they stand where the drawing says, and can be copied out.
func TestLettersOfADrawingStandWhereItSays(t *testing.T) {
	pdftotext := pdftest.Need(t, "pdftotext", "that letters of a drawing stand where it says")
	for _, c := range []struct {
		name, svg, word string
		x, base         float64 // mm: middle of the word, its baseline
		size            float64 // mm
		face            sheet.Face
	}{
		{"in a moved and scaled group", `<g transform="translate(50 0) scale(.5)"><text x="20" y="40" font-size="20" text-anchor="middle">12</text></g>`, "12", 34, 18, 4, sheet.Regular},
		{"by a style, bold, in other letters", `<g style="font-weight: bold; text-anchor:middle"><text style="font-size:10px" x="50" y="25">śЖΩ</text></g>`, "śЖΩ", 30, 20, 4, sheet.Bold},
		{"in a part of a text", `<text x="1" y="1" font-size="10" text-anchor="middle"><tspan x="50" y="20" dy=".5em">7</tspan></text>`, "7", 30, 20, 4, sheet.Regular},
		{"about its middle", `<text x="50" y="25" font-size="10" text-anchor="middle" dominant-baseline="central">7</text>`, "7", 30, 20 + 0.7227*2, 4, sheet.Regular},
		{"turned once round", `<text transform="rotate(360 50 25)" x="50" y="25" font-size="10" text-anchor="middle">7</text>`, "7", 30, 20, 4, sheet.Regular},
	} {
		t.Run(c.name, func(t *testing.T) {
			svg := `<svg viewBox="0 0 100 50"><title>not shown</title><rect x="1" y="1" width="3" height="3"/>` + c.svg + `</svg>`
			d := one(
				sheet.Image{X: 10, Y: 10, W: 40, H: 20, Key: "k", Type: "svg", Data: []byte(svg), Alt: "a cover"},
				sheet.Text{X: 10, Y: 60, Size: 9, String: "after"},
			)
			out := pdftest.Run(t, pdftotext, "-bbox", "-enc", "UTF-8", pdftest.File(t, "card.pdf", written(t, d)), "-")
			words := regexp.MustCompile(`<word xMin="([0-9.]+)" yMin="([0-9.]+)" xMax="([0-9.]+)" yMax="([0-9.]+)">([^<]*)<`).FindAllStringSubmatch(out, -1)
			if len(words) != 2 || words[0][5] != c.word || words[1][5] != "after" {
				t.Fatalf("words %q", words)
			}
			var n [4]float64
			for i := range n {
				v, err := strconv.ParseFloat(words[0][i+1], 64)
				if err != nil {
					t.Fatal(err)
				}
				n[i] = v * 25.4 / 72
			}
			if mid := (n[0] + n[2]) / 2; math.Abs(mid-c.x) > 0.05 {
				t.Errorf("its middle is at %.2f mm, want %.2f", mid, c.x)
			}
			if wide, want := n[2]-n[0], faces.Width(c.face, c.word, c.size*72/25.4); math.Abs(wide-want) > 0.02 {
				t.Errorf("it is %.2f mm wide, want %.2f", wide, want)
			}
			m := faces.Font{Face: c.face}.Measures()
			if base := n[1] + c.size*float64(m.Ascent)/1000; math.Abs(base-c.base) > 0.05 {
				t.Errorf("its baseline is at %.2f mm, want %.2f", base, c.base)
			}
		})
	}
}
