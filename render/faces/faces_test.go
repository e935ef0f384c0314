package faces

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"refitcard/compiler/letters"
)

// Source of the table: measured on mock-ups with the Go fonts and recomputed from cap height = 2 × distance ×
// tan(angle / 2), to a tenth of a point.
func TestSizesFollowFromTheReadingDistance(t *testing.T) {
	for _, c := range []struct{ distance, minutes, cap, size float64 }{
		{400, 15, 1.75, 6.8},
		{400, 18, 0, 8.2},
		{400, 20, 2.33, 9.1},
		{450, 15, 1.96, 7.7},
		{450, 18, 0, 9.2},
		{450, 20, 2.62, 10.3},
		{600, 15, 2.62, 10.3},
		{600, 18, 0, 12.3},
		{600, 20, 3.49, 13.7},
		{700, 15, 3.05, 12.0},
		{700, 18, 0, 14.4},
		{700, 20, 4.07, 16.0},
	} {
		size := SizeFor(c.distance, c.minutes)
		if math.Abs(size-c.size) > 0.051 {
			t.Errorf("%v′ at %v mm: size %.3f pt, want %.1f", c.minutes, c.distance, size, c.size)
		}
		if capital := size * CapHeight(Regular) * 25.4 / 72; c.cap > 0 && math.Abs(capital-c.cap) > 0.0051 {
			t.Errorf("%v′ at %v mm: capital %.3f mm, want %.2f", c.minutes, c.distance, capital, c.cap)
		}
	}
}

// Source of the figures: the outlines of the Go fonts in golang.org/x/image, read by another program.
func TestHeights(t *testing.T) {
	for _, f := range []Face{Regular, Bold} {
		if c := CapHeight(f); math.Abs(c-0.7227) > 0.0001 {
			t.Errorf("%s: cap height %.4f em, want 0.7227", names[f], c)
		}
		if d := DigitHeight(f); math.Abs(d-0.741) > 0.001 {
			t.Errorf("%s: digits %.4f em high, want 0.741", names[f], d)
		}
	}
}

func TestDigitsAreEquallyWideInBothWeights(t *testing.T) {
	em := 25.4 / 72
	for _, f := range []Face{Regular, Bold} {
		for d := '0'; d <= '9'; d++ {
			if w := Width(f, string(d), 1) / em; math.Abs(w-0.556) > 0.0005 {
				t.Errorf("%s: %c is %.4f em wide, want 0.556", names[f], d, w)
			}
		}
	}
}

func TestEveryCharacterIsDrawn(t *testing.T) {
	white := "\u00a0 "
	seen := [letters.Count]int{}
	for _, f := range Fonts() {
		font, err := sfnt.Parse(unpack(t, f))
		if err != nil {
			t.Fatalf("%s: %v", f.Name(), err)
		}
		var buffer sfnt.Buffer
		box := outline(t, font, &buffer, 0)
		for code := range 256 {
			c := letters.Rune(f.Set, byte(code))
			i, err := font.GlyphIndex(&buffer, rune(0xf000+code))
			if c == 0 {
				if i != 0 {
					t.Errorf("%s has a glyph for the code %#x, which means nothing", f.Name(), code)
				}
				continue
			}
			if err != nil || i == 0 {
				t.Errorf("%s has no glyph for %q: %v", f.Name(), c, err)
				continue
			}
			drawn := outline(t, font, &buffer, i)
			if isWhite := strings.ContainsRune(white, c); isWhite != (len(drawn) == 0) {
				t.Errorf("%s: %q has an outline of %d strokes", f.Name(), c, len(drawn))
			}
			if len(drawn) > 0 && sameOutline(drawn, box) {
				t.Errorf("%s: %q is drawn as the box for what is missing", f.Name(), c)
			}
			advance, err := font.GlyphAdvance(&buffer, i, fixed.I(unitsPerEm), 0)
			if err != nil || advance.Round() != int(advances[f.Face][f.Set][code]) {
				t.Errorf("%s: %q is %d wide in the table, %d in the font (%v)", f.Name(), c, advances[f.Face][f.Set][code], advance.Round(), err)
			}
			seen[f.Set]++
		}
	}
	if want := [letters.Count]int{3 * (95 + 127), 3 * (156 + 1), 3 * (69 + 1), 3 * (99 + 1), 3 * (93 + 1)}; seen != want {
		t.Errorf("%v characters of each set in three faces, want %v", seen, want)
	}
}

// Outside source: the Go fonts as they are published, read by character. Each glyph is the one that they have.
func TestGlyphsAreThoseOfTheSource(t *testing.T) {
	for _, f := range Fonts() {
		if f.Face == Mono {
			continue // its signs are made narrow
		}
		ours, err := sfnt.Parse(unpack(t, f))
		if err != nil {
			t.Fatal(err)
		}
		theirs, err := sfnt.Parse([][]byte{goregular.TTF, gobold.TTF}[f.Face])
		if err != nil {
			t.Fatal(err)
		}
		var buffer sfnt.Buffer
		same, elsewhere := 0, ""
		for code := range 256 {
			c := letters.Rune(f.Set, byte(code))
			if c == 0 {
				continue
			}
			j, err := theirs.GlyphIndex(&buffer, c)
			if err != nil || j == 0 {
				elsewhere += string(c)
				continue
			}
			i, err := ours.GlyphIndex(&buffer, rune(0xf000+code))
			if err != nil {
				t.Fatal(err)
			}
			if !sameOutline(outline(t, ours, &buffer, i), outline(t, theirs, &buffer, j)) {
				t.Errorf("%s: %q is not drawn as in the source", f.Name(), c)
			}
			same++
		}
		want := map[letters.Set]string{letters.Common: "☐☑✓⚠⌀∠", letters.Cyrillic: "ʼ"}[f.Set]
		if elsewhere != want || same < 70 {
			t.Errorf("%s: %d glyphs of the source, and %q from elsewhere, want %q", f.Name(), same, elsewhere, want)
		}
	}
}

func TestWidthIsThatOfTheCodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := rapid.SampledFrom([]rune("abM 0189.\u0301\u0308\u00ad⚠\ufe0fλéłżЖщ🔧⌀№"))
		s := string(rapid.SliceOf(some).Draw(t, "letters"))
		f := rapid.SampledFrom(All()).Draw(t, "face")
		runs, _ := letters.Encode(s)
		sum := 0
		for _, r := range runs {
			for _, c := range r.Codes {
				sum += int(advances[f][r.Set][c])
			}
		}
		want := float64(sum) / unitsPerEm * 12 * 25.4 / 72
		if got := Width(f, s, 12); math.Abs(got-want) > 1e-9 {
			t.Fatalf("%q is %v mm wide, its codes are %v", s, got, want)
		}
	})
}

func TestFontsAreFoundByName(t *testing.T) {
	for _, f := range Fonts() {
		if got, ok := Named(f.Name()); !ok || got != f {
			t.Errorf("%s is found as %v, %v", f.Name(), got, ok)
		}
	}
	if f, ok := Named("Helvetica"); ok {
		t.Errorf("Helvetica is found as %v", f)
	}
}

func unpack(t *testing.T, f Font) []byte {
	t.Helper()
	packed, length := f.Outlines()
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	file, err := io.ReadAll(r)
	if err != nil || len(file) != length {
		t.Fatalf("%s: %d bytes, want %d (%v)", f.Name(), len(file), length, err)
	}
	return file
}

func outline(t *testing.T, font *sfnt.Font, buffer *sfnt.Buffer, i sfnt.GlyphIndex) sfnt.Segments {
	t.Helper()
	s, err := font.LoadGlyph(buffer, i, fixed.I(unitsPerEm), nil)
	if err != nil {
		t.Fatal(err)
	}
	return append(sfnt.Segments{}, s...)
}

func sameOutline(a, b sfnt.Segments) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}
