package pdf_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

// one is a sheet of one page with the operations given.
func one(ops ...sheet.Op) *sheet.Document {
	return &sheet.Document{Title: "one page", Width: 100, Height: 80, Pages: []sheet.Page{{Ops: ops}}}
}

// Pictures of equal size are what fpdf writes in random order.
func TestTheSameSheetGivesTheSameBytes(t *testing.T) {
	d := sample(t)
	for i := range 6 {
		m := image.NewGray(image.Rect(0, 0, 10, 10))
		m.SetGray(i, i, color.Gray{200})
		var b bytes.Buffer
		if err := png.Encode(&b, m); err != nil {
			t.Fatal(err)
		}
		d.Pages[1].Ops = append(d.Pages[1].Ops, sheet.Image{X: float64(20 * i), Y: 80, W: 10, H: 10, Key: string(rune('a' + i)), Type: "png", Data: b.Bytes()})
	}
	first := written(t, d)
	for range 20 {
		if !bytes.Equal(first, written(t, d)) {
			t.Fatal("the bytes differ from run to run")
		}
	}
	d.Title += "."
	if bytes.Equal(first, written(t, d)) {
		t.Fatal("another title gives the same bytes")
	}
}

func TestNoTimeIsInTheFile(t *testing.T) {
	file := written(t, sample(t))
	for _, word := range []string{"CreationDate", "ModDate", "20000101", "xmp:CreateDate"} {
		if bytes.Contains(file, []byte(word)) {
			t.Errorf("the file holds %q", word)
		}
	}
}

func TestWhatIsAttachedIsFoundAgain(t *testing.T) {
	d := sample(t)
	d.Attachments = append(d.Attachments, sheet.Attachment{Name: "empty (1) \\.md", Type: "text/markdown"})
	got, err := pdf.Attached(written(t, d))
	if err != nil {
		t.Fatal(err)
	}
	d.Attachments[2].Data = []byte{}
	if diff := cmp.Diff(d.Attachments, got); diff != "" {
		t.Error(diff)
	}
	d.Attachments = nil
	if got, err := pdf.Attached(written(t, d)); err != nil || got != nil {
		t.Errorf("nothing attached gives %v, %v", got, err)
	}
}

func TestAttachedRefusesWhatItCanNotRead(t *testing.T) {
	file := written(t, sample(t))
	soiled := bytes.Clone(file)
	at := bytes.Index(soiled, []byte("/Type /EmbeddedFile"))
	at += bytes.Index(soiled[at:], []byte("stream\n")) + len("stream\n") + 5
	soiled[at] ^= 0x55
	for _, c := range []struct {
		name  string
		file  []byte
		words string
	}{
		{"empty", nil, "no PDF file"},
		{"text", []byte("# Refit the pump\n"), "no PDF file"},
		{"cut off", file[:len(file)/2], "cut off or damaged"},
		{"a bit turned over", soiled, "cut off or damaged"},
		{"of another program", []byte("%PDF-1.5\n1 0 obj\nstartxref\n9\n%%EOF"), "another"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := pdf.Attached(c.file); err == nil || !strings.Contains(err.Error(), c.words) {
				t.Errorf("error %v, want one with %q", err, c.words)
			}
		})
	}
}

// Each of these makes fpdf panic, print, or write something else than was asked for.
func TestWhatCanNotBeDrawnIsRefused(t *testing.T) {
	whole := picture(t, "png")
	img := func(kind string, data []byte) sheet.Image {
		return sheet.Image{X: 1, Y: 1, W: 10, H: 10, Key: "cover", Type: kind, Data: data}
	}
	text := func(s string) sheet.Text { return sheet.Text{X: 1, Y: 9, Size: 10, String: s} }
	for _, c := range []struct {
		name  string
		sheet *sheet.Document
		words string
	}{
		{"character beyond U+FFFF", one(text("fit 🔧")), `'🔧' (U+1F527), in "fit 🔧"`},
		{"character of no face", one(text("λ 水")), "U+6C34"},
		{"truncated PNG", one(img("png", whole[:len(whole)-20])), `"cover": the file is cut off`},
		{"truncated JPEG", one(img("jpeg", picture(t, "jpeg")[:500])), `"cover"`},
		{"empty PNG", one(img("png", nil)), "can't be read as png"},
		{"JPEG called PNG", one(img("png", picture(t, "jpeg"))), "can't be read as png"},
		{"picture of another kind", one(img("gif", []byte("GIF89a"))), `"gif"`},
		{"broken drawing", one(img("svg", []byte("<svg"))), `"cover"`},
		{"drawing without size", one(img("svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0L1 1"/></svg>`))), "viewBox"},
		{"drawing with letters along a line", one(img("svg", []byte(`<svg viewBox="0 0 9 9"><text><textPath>M8</textPath></text></svg>`))), "letters"},
		{"drawing with letters of no face", one(img("svg", []byte(`<svg viewBox="0 0 9 9"><text>水</text></svg>`))), "U+6C34"},
		{"drawing with letters bent", one(img("svg", []byte(`<svg viewBox="0 0 9 9"><text transform="skewX(20)">M8</text></svg>`))), "skewX(20)"},
		{"drawing with letters far off", one(img("svg", []byte(`<svg viewBox="0 0 9 9"><text x="1e300">M8</text></svg>`))), "too far"},
		{"drawing scaled to nothing", one(img("svg", []byte(`<svg viewBox="0 0 9 9"><path transform="scale(0)" d="M0 0L1 1"/></svg>`))), "to nothing"},
		{"empty drawing", one(img("svg", []byte(`<svg viewBox="0 0 9 9"></svg>`))), "empty"},
		{"picture without size", one(sheet.Image{Key: "cover", Type: "png", Data: whole}), "no size"},
		{"place that is no number", one(sheet.Line{X1: math.NaN(), X2: 1, Width: 1}), "NaN"},
		{"place beyond all paper", one(sheet.Circle{X: 1e9, R: 1, Stroke: 1}), "1e+09"},
		{"box smaller than its stroke", one(sheet.Rect{W: 0.2, H: 5, Stroke: 2}), "no room"},
		{"polygon of one point", one(sheet.Polygon{Points: []sheet.Point{{X: 1}}}), "1 points"},
		{"face that is none", one(sheet.Text{Face: 7, Size: 9, String: "x"}), "face number 7"},
		{"no operation", one(nil), "no way to draw"},
		{"no pages", &sheet.Document{Width: 1, Height: 1}, "without pages"},
		{"no paper", &sheet.Document{Pages: make([]sheet.Page, 1)}, "0 by 0 mm"},
		{"bookmark to nowhere", func() *sheet.Document {
			d := one()
			d.Bookmarks = []sheet.Bookmark{{Title: "Start", Page: 3}}
			return d
		}(), `"Start" leads to page 4`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var b bytes.Buffer
			printed := stdout(t, func() {
				if err := pdf.Write(&b, c.sheet); err == nil || !strings.Contains(err.Error(), c.words) {
					t.Errorf("error %v, want one with %q", err, c.words)
				}
			})
			if b.Len() > 0 || printed != "" {
				t.Errorf("%d bytes were written, and printed: %q", b.Len(), printed)
			}
		})
	}
}

func TestNothingIsPrinted(t *testing.T) {
	if printed := stdout(t, func() { written(t, sample(t)) }); printed != "" {
		t.Errorf("printed: %q", printed)
	}
}

// stdout gives what is printed to standard output while f runs.
func stdout(t *testing.T, f func()) string {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	before := os.Stdout
	os.Stdout = w
	defer func() { os.Stdout = before }()
	f()
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	out, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func TestAFullDiskIsReported(t *testing.T) {
	full := errors.New("no space left")
	if err := pdf.Write(failing{full}, one()); !errors.Is(err, full) {
		t.Errorf("error %v, want %v", err, full)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// A reader of cards meets files from anywhere.
func FuzzAttached(f *testing.F) {
	small := one(sheet.Text{X: 1, Y: 9, Size: 10, String: "a"})
	small.Attachments = []sheet.Attachment{{Name: "a.md", Data: []byte("# A\n")}}
	file := written(f, small)
	f.Add(file)
	f.Add(file[len(file)-2000:])
	f.Add(written(f, one(sheet.Text{X: 1, Y: 9, Size: 10, String: "ąγд ½ (a)"})))
	bare := one()
	bare.Attachments = []sheet.Attachment{{Name: "ż.md", Type: "text/markdown", Description: "d", Data: bytes.Repeat([]byte("a"), 3000)}}
	f.Add(written(f, bare))
	f.Add([]byte("%PDF-1.7\nxref\n0 2\n0000000000 65535 f \n0000000009 00000 n \ntrailer <</Root 1 0 R>>\nstartxref\n9\n%%EOF"))
	f.Add([]byte("%PDF-1.7\n1 0 obj\n<</Names 1 0 R /EmbeddedFiles 1 0 R>>\nendobj\nxref\n1 1\n0000000009 00000 n \ntrailer <</Root 1 0 R>>\nstartxref\n59\n%%EOF"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := pdf.Attached(data)
		if err != nil && list != nil {
			t.Error("both a list and an error")
		}
		if words, err := pdf.Printed(data); err != nil && words != nil {
			t.Error("both words and an error")
		}
	})
}
