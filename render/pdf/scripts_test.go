package pdf_test

import (
	"bytes"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"

	"refitcard/render/faces"
	"refitcard/render/pdf"
	"refitcard/render/pdf/pdftest"
	"refitcard/render/sheet"
)

// orders are sentences of the workshop in languages of Europe, with every letter that is theirs alone.
var orders = []struct{ language, words string }{
	{"pl", "Zdejmij pokrywę wciągarki, śruby M8 × 25 odłóż; żółć, ćma, źdźbło, ŁÓDŹ"},
	{"cs", "Sejměte víko čerpadla; příliš žluťoučký kůň úpěl ďábelské ódy, Ň"},
	{"ro", "Demontați capacul șurubului; împingeți ușa stăvilarului, ȘI ȚEVI"},
	{"hu", "Szerelje le a szivattyú fedelét; árvíztűrő tükörfúrógép, Ő Ű"},
	{"tr", "Kapağı çıkarın, cıvataları 22 N·m ile sıkın; İĞNE ŞÖYLE"},
	{"lv", "Noņemiet sūkņa vāku; ģērbtuve, ķēde, ŪDENS Ņ Ļ"},
	{"mt", "Neħħi l-għatu tal-pompa; ġebla, żejt, ċavetta Ħ"},
	{"cy", "Tynnwch y clawr; tŵr, ŷd, Ẁ ẃ"},
	{"el", "Αφαιρέστε το καπάκι της αντλίας· μονάδα Ω, ΐ, Ϋ, ρωτήστε; ς"},
	{"ru", "Снимите крышку насоса, 4 болта M8; объём, ЩЁТКА, № 7"},
	{"uk", "Зніміть кришку насоса; ґанок, їжа, об’єм, Єдність"},
	{"bg", "Свалете капака на помпата; ѝ, жътва, ЩЪРК"},
	{"sr", "Скините поклопац пумпе; ђак, љуљашка, њива, ћуп, џеп"},
	{"is", "Takið lokið af dælunni; þétting, öxull, ÆÐ"},
}

// page of every order in every face, ten lines below each other.
func ordersSheet() *sheet.Document {
	d := &sheet.Document{Title: orders[0].words, Language: "pl", Width: 210, Height: 297}
	for _, f := range faces.All() {
		var p sheet.Page
		for i, o := range orders {
			p.Ops = append(p.Ops, sheet.Text{X: 10, Y: 20 + 12*float64(i), Face: f, Size: 11, String: o.words, Block: i + 1})
		}
		d.Pages = append(d.Pages, p)
	}
	return d
}

func TestWordsOfEveryScriptAreCopiedOutExactly(t *testing.T) {
	file := pdftest.File(t, "card.pdf", written(t, ordersSheet()))
	for _, c := range []struct {
		program string
		args    []string
	}{
		{"pdftotext", []string{"-raw", "-enc", "UTF-8", file, "-"}},
		{"mutool", []string{"draw", "-q", "-F", "txt", file}},
	} {
		t.Run(c.program, func(t *testing.T) {
			out := pdftest.Run(t, pdftest.Need(t, c.program, "that text of other scripts can be copied out"), c.args...)
			for _, o := range orders {
				if n := strings.Count(norm.NFC.String(out), o.words); n != len(faces.All()) {
					t.Errorf("%s: %q is found %d times in the words copied out, want once a face", o.language, o.words, n)
				}
			}
		})
	}
	words, err := pdf.Printed(written(t, ordersSheet()))
	if err != nil || len(words) != len(orders) {
		t.Fatalf("%d strings, %v", len(words), err)
	}
	for i, o := range orders {
		if words[i] != o.words {
			t.Errorf("read back as %q, want %q", words[i], o.words)
		}
	}
}

func TestOnlyFontsThatAreUsedAreInTheFile(t *testing.T) {
	pdffonts := pdftest.Need(t, "pdffonts", "that a sheet holds no font that it does not use")
	for words, want := range map[string]string{
		"plain words ≤ ½":  "RefitcardRegular",
		"zdjąć":            "RefitcardRegular RefitcardRegular-Latin",
		"вал":              "RefitcardRegular-Cyrillic",
		"№ 1, ⅜ in, άξων":  "RefitcardRegular RefitcardRegular-Greek RefitcardRegular-Signs",
		"not ąγд in words": "RefitcardRegular RefitcardRegular-Cyrillic RefitcardRegular-Greek RefitcardRegular-Latin",
	} {
		file := pdftest.File(t, "card.pdf", written(t, one(sheet.Text{X: 5, Y: 9, Size: 11, String: words})))
		names := regexp.MustCompile(`(?m)^Refitcard\S+`).FindAllString(pdftest.Run(t, pdffonts, file), -1)
		if got := strings.Join(slices.Sorted(slices.Values(names)), " "); got != want {
			t.Errorf("%q: the file has %s, want %s", words, got, want)
		}
	}
}

// Outside source: the Go fonts as they are published, drawn by another program than draws the page. Where a line of every
// script has ink in one, it has ink in the other.
func TestDrawnGlyphsAreThoseOfTheFont(t *testing.T) {
	const size, left, base = 40.0, 10.0, 40.0
	for _, f := range []faces.Face{faces.Regular, faces.Bold} {
		source, err := opentype.Parse([][]byte{goregular.TTF, gobold.TTF}[f])
		if err != nil {
			t.Fatal(err)
		}
		for _, words := range []string{"ĄąĆćŁłŃńŐőŞşȚțİıĞğ", "ŘřŤťŮůĶķŅņĦħŴŵẀẁỲỳ", "ΑΒΓΔΘΞΩαβγδλμπςψΐ", "БЖИЙЩЪЫЮЯЇЄҐђљџў", "№⅜⅝₂⁴●▲↕√"} {
			d := one(sheet.Text{X: left, Y: base, Face: f, Size: size, String: words})
			d.Width = 300
			m := page(t, d)
			face, err := opentype.NewFace(source, &opentype.FaceOptions{Size: size, DPI: dots, Hinting: font.HintingNone})
			if err != nil {
				t.Fatal(err)
			}
			dot := fixed.P(int(left*dots/25.4), int(base*dots/25.4))
			for _, r := range words {
				bounds, mask, _, advance, ok := face.Glyph(dot, r)
				if !ok {
					t.Fatalf("the source has no %q", r)
				}
				same, ink := 0, 0
				for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
					for x := bounds.Min.X; x < bounds.Max.X; x++ {
						_, _, _, alpha := mask.At(x-bounds.Min.X, y-bounds.Min.Y).RGBA()
						grey, _, _, _ := m.At(x, y).RGBA()
						if alpha > 0x8000 {
							ink++
						}
						if math.Abs(float64(alpha)-float64(0xffff-grey)) < 0x8000 {
							same++
						}
					}
				}
				all := bounds.Dx() * bounds.Dy()
				if ink == 0 || float64(all-same) > 0.08*float64(all) {
					t.Errorf("face %d: %q differs from the source in %d of %d pixels (%d with ink)", f, r, all-same, all, ink)
				}
				dot.X += advance
			}
		}
	}
}

// Widths of runs in several sets add up to what layout thinks.
func TestAWordOfManySetsIsAsWideAsLayoutThinks(t *testing.T) {
	pdftotext := pdftest.Need(t, "pdftotext", "that words end where layout thinks they end")
	word := "zażółćΑντλίαщётка№⅜ŵ"
	for _, f := range faces.All() {
		file := pdftest.File(t, "card.pdf", written(t, one(sheet.Text{X: 5, Y: 30, Face: f, Size: 11, String: word})))
		out := pdftest.Run(t, pdftotext, "-bbox", "-enc", "UTF-8", file, "-")
		m := regexp.MustCompile(`<word xMin="([0-9.]+)" yMin="[0-9.]+" xMax="([0-9.]+)"[^>]*>([^<]*)<`).FindStringSubmatch(out)
		if m == nil || m[3] != word {
			t.Fatalf("face %d: the word is missing:\n%s", f, out)
		}
		left, err1 := strconv.ParseFloat(m[1], 64)
		right, err2 := strconv.ParseFloat(m[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if got, want := (right-left)*25.4/72, faces.Width(f, word, 11); math.Abs(got-want) > 0.01 {
			t.Errorf("face %d: %.3f mm wide in the file, layout thinks %.3f", f, got, want)
		}
	}
}

func TestNamesOfEveryScriptStandInTheFile(t *testing.T) {
	d := one(sheet.Text{X: 5, Y: 9, Size: 11, String: "вал"})
	d.Title, d.Number, d.Language = "Крышка насоса – 水", "НС-7", "ru"
	d.Bookmarks = []sheet.Bookmark{{Title: "Αφαίρεση ąę"}}
	d.Attachments = []sheet.Attachment{{Name: "Żółta_крышка.md", Description: "исходный текст", Data: []byte("x")}}
	file := written(t, d)
	path := pdftest.File(t, "card.pdf", file)
	info := pdftest.Run(t, pdftest.Need(t, "pdfinfo", "title and subject in other scripts"), "-enc", "UTF-8", path)
	for _, want := range []string{"Крышка насоса – 水", "НС-7"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo lacks %q:\n%s", want, info)
		}
	}
	if xmp := pdftest.Run(t, "pdfinfo", "-meta", path); !strings.Contains(xmp, ">Крышка насоса – 水<") || !strings.Contains(xmp, ">ru<") {
		t.Errorf("the metadata lack title or language:\n%s", xmp)
	}
	outline := pdftest.Run(t, pdftest.Need(t, "mutool", "bookmarks in other scripts"), "show", path, "outline")
	if !strings.Contains(outline, "Αφαίρεση ąę") {
		t.Errorf("the bookmark is missing:\n%s", outline)
	}
	list := pdftest.Run(t, pdftest.Need(t, "pdfdetach", "names of attached files in other scripts"), "-enc", "UTF-8", "-list", path)
	if !strings.Contains(list, "Żółta_крышка.md") {
		t.Errorf("the attached file is missing:\n%s", list)
	}
	got, err := pdf.Attached(file)
	if err != nil || len(got) != 1 || got[0].Name != d.Attachments[0].Name || got[0].Description != d.Attachments[0].Description || !bytes.Equal(got[0].Data, []byte("x")) {
		t.Errorf("%v, %v", got, err)
	}
}
