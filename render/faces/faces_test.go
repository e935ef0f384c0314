package faces

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"testing"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
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
			t.Errorf("%s: cap height %.4f em, want 0.7227", Name(f), c)
		}
		if d := DigitHeight(f); math.Abs(d-0.741) > 0.001 {
			t.Errorf("%s: digits %.4f em high, want 0.741", Name(f), d)
		}
	}
}

func TestDigitsAreEquallyWideInBothWeights(t *testing.T) {
	em := 25.4 / 72
	for _, f := range []Face{Regular, Bold} {
		for d := '0'; d <= '9'; d++ {
			if w := Width(f, string(d), 1) / em; math.Abs(w-0.556) > 0.0005 {
				t.Errorf("%s: %c is %.4f em wide, want 0.556", Name(f), d, w)
			}
		}
	}
}

func TestEveryCharacterIsDrawn(t *testing.T) {
	white := "\u00a0 "
	for _, f := range All() {
		font, err := sfnt.Parse(unpack(t, f))
		if err != nil {
			t.Fatalf("%s: %v", Name(f), err)
		}
		var buffer sfnt.Buffer
		box := outline(t, font, &buffer, 0)
		seen := 0
		for code := range 256 {
			c := Rune(byte(code))
			if c == 0 {
				continue
			}
			i, err := font.GlyphIndex(&buffer, c)
			if err != nil || i == 0 {
				t.Errorf("%s has no glyph for %q: %v", Name(f), c, err)
				continue
			}
			drawn := outline(t, font, &buffer, i)
			if isWhite := bytes.ContainsRune([]byte(white), c); isWhite != (len(drawn) == 0) {
				t.Errorf("%s: %q has an outline of %d strokes", Name(f), c, len(drawn))
			}
			if len(drawn) > 0 && sameOutline(drawn, box) {
				t.Errorf("%s: %q is drawn as the box for what is missing", Name(f), c)
			}
			advance, err := font.GlyphAdvance(&buffer, i, fixed.I(unitsPerEm), 0)
			if err != nil || advance.Round() != int(advances[f][code]) {
				t.Errorf("%s: %q is %d wide in the table, %d in the font (%v)", Name(f), c, advances[f][code], advance.Round(), err)
			}
			seen++
		}
		if seen != 95+127 {
			t.Errorf("%s: %d characters, want 222", Name(f), seen)
		}
	}
}

func unpack(t *testing.T, f Face) []byte {
	t.Helper()
	packed, length := Outlines(f)
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	file, err := io.ReadAll(r)
	if err != nil || len(file) != length {
		t.Fatalf("%s: %d bytes, want %d (%v)", Name(f), len(file), length, err)
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
