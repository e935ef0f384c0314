package faces

import (
	"math"
	"slices"
	"testing"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"pgregory.net/rapid"
)

func TestEncode(t *testing.T) {
	for _, c := range []struct {
		name, in, out string // out with one byte a character
		missing       []Missing
	}{
		{"plain letters", "M8 x 25", "M8 x 25", nil},
		{"signs of the workshop", "≤ 5 Ω → ⌀8", "\x88 5 \x90 \x98 \x8f8", nil},
		{"units", "22 N·m, 90°, ½", "22 N\xb7m, 90\xb0, \xbd", nil},
		{"an accent typed after its letter", "e\u0301tanche", "\xe9tanche", nil},
		{"ohm sign, empty set and Greek mu", "\u2126\u2205\u03bc", "\x90\x8f\xb5", nil},
		{"narrow space", "10\u202f000", "10\xa0000", nil},
		{"warning sign with its emoji mark", "⚠\ufe0f", "\x87", nil},
		{"soft hyphen", "gear\u00adbox", "gearbox", nil},
		{"a line end", "a\nb", "a b", nil},
		{"Greek that is missing", "aλb", "a?b", []Missing{{'λ', 1}}},
		{"beyond U+FFFF", "a🔧", "a?", []Missing{{'🔧', 1}}},
		{"an accent that no letter takes", "q\u0301x", "q?x", []Missing{{'\u0301', 1}}},
		{"bytes that are no text", "a\xffb", "a?b", []Missing{{utf8.RuneError, 1}}},
		{"control character", "a\x01", "a?", []Missing{{1, 1}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, missing := Encode(c.in)
			if string(out) != c.out || !slices.Equal(missing, c.missing) {
				t.Errorf("Encode(%q) = %q, %v; want %q, %v", c.in, out, missing, c.out, c.missing)
			}
		})
	}
}

// Outside source: the table of windows-1252 in golang.org/x/text. Where ours differs, the place holds one of the signs.
func TestCodesAreThoseOfWindows1252(t *testing.T) {
	given := []rune("☐☑✓⚠≤≥⌀Ω→∠−≈Δ←↑↓′″≠")
	found := 0
	for code := 0x20; code < 256; code++ {
		ours, theirs := Rune(byte(code)), charmap.Windows1252.DecodeByte(byte(code))
		switch {
		case slices.Contains(given, ours):
			found++
		case code == 0x7f || code == 0xad:
			if ours != 0 {
				t.Errorf("code %#x is %q, want none", code, ours)
			}
		case ours != theirs:
			t.Errorf("code %#x is %q, want %q", code, ours, theirs)
		}
	}
	if found != len(given) {
		t.Errorf("%d of the %d signs have a place", found, len(given))
	}
}

func TestWidthIsThatOfTheCodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		letters := rapid.SampledFrom([]rune("abM 0189.\u0301\u0308\u00ad⚠\ufe0fλé🔧⌀"))
		s := string(rapid.SliceOf(letters).Draw(t, "letters"))
		f := rapid.SampledFrom(All()).Draw(t, "face")
		codes, _ := Encode(s)
		sum := 0
		for _, c := range codes {
			sum += int(advances[f][c])
		}
		want := float64(sum) / unitsPerEm * 12 * 25.4 / 72
		if got := Width(f, s, 12); math.Abs(got-want) > 1e-9 {
			t.Fatalf("%q is %v mm wide, its codes are %v", s, got, want)
		}
	})
}
