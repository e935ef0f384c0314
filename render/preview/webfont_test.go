package preview

import (
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
)

// A browser finds each character of a font by itself, with the width that the layout reckons with, and no other.
func TestWebFontsKnowTheirCharacters(t *testing.T) {
	for _, f := range faces.Fonts() {
		parsed, err := sfnt.Parse(webFont(f))
		if err != nil {
			t.Fatalf("%s: %v", f.Name(), err)
		}
		var b sfnt.Buffer
		em := fixed.I(int(parsed.UnitsPerEm()))
		known := 0
		for code := range 256 {
			r := letters.Rune(f.Set, byte(code))
			if r == 0 {
				continue
			}
			g, err := parsed.GlyphIndex(&b, r)
			if err != nil || g == 0 {
				t.Errorf("%s: %q has no glyph (%v)", f.Name(), r, err)
				continue
			}
			known++
			wide, err := parsed.GlyphAdvance(&b, g, em, font.HintingNone)
			if want := f.Advance(byte(code)) * float64(em) / 64; err != nil || math.Abs(float64(wide)/64-want) > 0.5 {
				t.Errorf("%s: %q is %v wide, want %.1f (%v)", f.Name(), r, wide, want, err)
			}
		}
		if known < 20 {
			t.Errorf("%s: only %d characters", f.Name(), known)
		}
		for _, r := range []rune{0xe000, 0xf041, 'あ'} {
			if g, err := parsed.GlyphIndex(&b, r); err != nil || g != 0 {
				t.Errorf("%s: %U has glyph %d (%v)", f.Name(), r, g, err)
			}
		}
	}
}
