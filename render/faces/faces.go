// Package faces knows the glyphs, widths and heights of the type on a sheet: three faces, each a font of 8-bit codes for
// every set of characters of package letters.
//
// The fonts are cut and merged beforehand by the program in bake, from the Go fonts and a few signs of DejaVu Sans Bold.
package faces

import (
	"embed"
	"math"
	"strings"

	"refitcard/compiler/letters"
)

//go:generate go run ./bake

// Face names one of the faces.
type Face int

// The faces there are.
const (
	Regular Face = iota
	Bold
	Mono
	count
)

// All gives every face, in order.
func All() []Face { return []Face{Regular, Bold, Mono} }

// Font is the part of a face that holds one set of characters.
type Font struct {
	Face Face
	Set  letters.Set
}

// Fonts gives every font, by face, then by set.
func Fonts() []Font {
	var out []Font
	for _, f := range All() {
		for _, s := range letters.Sets() {
			out = append(out, Font{f, s})
		}
	}
	return out
}

var names = [count]string{"RefitcardRegular", "RefitcardBold", "RefitcardMono"}

// Name is the PostScript name of a font. It differs from the names of the fonts that it was made from, as the licence of
// one of them asks of changed fonts.
func (f Font) Name() string {
	if f.Set == letters.Common {
		return names[f.Face]
	}
	return names[f.Face] + "-" + f.Set.Title()
}

// Named gives the font of a name, and whether there is one.
func Named(name string) (Font, bool) {
	f, ok := byName[name]
	return f, ok
}

var byName = func() map[string]Font {
	out := map[string]Font{}
	for _, f := range Fonts() {
		out[f.Name()] = f
	}
	return out
}()

// millimetre is the length of one point in mm.
const millimetre = 25.4 / 72

// outlines are the fonts as TrueType files packed by zlib; see data/README.md for where they come from.
//
//go:embed data/*.z
var outlines embed.FS

// File is the name that the outlines of a font are kept under.
func (f Font) File() string {
	return "data/" + strings.ToLower(strings.TrimPrefix(f.Name(), "Refitcard")) + ".z"
}

// Outlines gives a font as a TrueType file packed by zlib, and the length of the file unpacked in bytes.
func (f Font) Outlines() (packed []byte, length int) {
	packed, err := outlines.ReadFile(f.File())
	if err != nil {
		panic(err) // the files are part of the program: TestEveryCharacterIsDrawn reads each
	}
	return packed, measures[f.Face][f.Set].length
}

// Measure holds the figures of a font that a file format asks for, in thousandths of an em.
type Measure struct {
	Ascent, Descent, CapHeight, StemV int
	Box                               [4]int // left, bottom, right, top of all glyphs laid over each other
}

// Measures gives the figures of a font, taken from the font itself save for StemV, the width of an upright stem, which
// is a round figure for the weight as Go fonts do not tell it.
func (f Font) Measures() Measure {
	m := measures[f.Face][f.Set]
	out := Measure{
		Ascent: thousandth(ascent), Descent: thousandth(descent), CapHeight: thousandth(heights[f.Face].capital), StemV: 80,
	}
	if f.Face == Bold {
		out.StemV = 130
	}
	for i, v := range m.box {
		out.Box[i] = thousandth(v)
	}
	return out
}

// Advance is how wide the glyph of a code is, in em.
func (f Font) Advance(code byte) float64 {
	return float64(advances[f.Face][f.Set][code]) / unitsPerEm
}

func thousandth(units int) int { return int(math.Round(float64(units) * 1000 / unitsPerEm)) }

// Width is how wide a string is in mm at a size in points, by the advances of the face. A character that the face lacks
// counts as the question mark that stands in for it.
func Width(f Face, s string, sizePt float64) float64 {
	table := &advances[f][letters.Common]
	sum := 0
	for i := 0; i < len(s); {
		if b := s[i]; b >= ' ' && b < 0x7f && (i+1 == len(s) || s[i+1] < 0x80) {
			sum += int(table[b])
			i++
			continue
		}
		set, code, size, _ := letters.Next(s[i:])
		sum += int(advances[f][set][code])
		i += size
	}
	return float64(sum) * (sizePt * millimetre / unitsPerEm)
}

// CapHeight is the height of a flat capital letter in em.
func CapHeight(f Face) float64 { return float64(heights[f].capital) / unitsPerEm }

// DigitHeight is the height of the highest digit in em, from the baseline.
func DigitHeight(f Face) float64 { return float64(heights[f].digit) / unitsPerEm }

// SizeFor is the size in points at which a capital letter of the Regular face, seen from a distance in mm, fills an angle
// in minutes of arc. Source: cap height = 2 × distance × tan(angle / 2), plain geometry.
func SizeFor(distanceMM, minutes float64) float64 {
	half := minutes / 2 / 60 * math.Pi / 180
	return 2 * distanceMM * math.Tan(half) / CapHeight(Regular) / millimetre
}
