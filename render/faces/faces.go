// Package faces knows the glyphs, widths and heights of the type on a sheet: three faces, each of 8-bit codes.
//
// The codes are Windows code page 1252 with nineteen seldom-used places given to signs of the workshop. The faces are cut
// and merged beforehand by the program in bake, from the Go fonts and a few signs of DejaVu Sans Bold.
package faces

import (
	_ "embed" // the baked faces
	"math"
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

var names = [count]string{"RefitcardRegular", "RefitcardBold", "RefitcardMono"}

// Name is the PostScript name of a face. It differs from the names of the fonts that it was made from, as the licence of
// one of them asks of changed fonts.
func Name(f Face) string { return names[f] }

// millimetre is the length of one point in mm.
const millimetre = 25.4 / 72

// outlines are the faces as TrueType files packed by zlib; see data/README.md for where they come from.
var (
	//go:embed data/regular.z
	regularOutlines []byte
	//go:embed data/bold.z
	boldOutlines []byte
	//go:embed data/mono.z
	monoOutlines []byte
)

// Outlines gives a face as a TrueType file packed by zlib, and the length of the file unpacked in bytes. The bytes are
// shared: a caller must not write to them.
func Outlines(f Face) (packed []byte, length int) {
	return [count][]byte{regularOutlines, boldOutlines, monoOutlines}[f], measures[f].length
}

// Measure holds the figures of a face that a file format asks for, in thousandths of an em.
type Measure struct {
	Ascent, Descent, CapHeight, StemV int
	Box                               [4]int // left, bottom, right, top of all glyphs laid over each other
	Advances                          [256]int
}

// Measures gives the figures of a face, taken from the font itself save for StemV, the width of an upright stem, which
// is a round figure for the weight as Go fonts do not tell it.
func Measures(f Face) Measure {
	m := measures[f]
	out := Measure{
		Ascent: thousandth(m.ascent), Descent: thousandth(m.descent), CapHeight: thousandth(m.capHeight), StemV: 80,
	}
	if f == Bold {
		out.StemV = 130
	}
	for i, v := range m.box {
		out.Box[i] = thousandth(v)
	}
	for i, v := range advances[f] {
		out.Advances[i] = thousandth(int(v))
	}
	return out
}

// Advance is how wide the glyph of a code is, in em.
func Advance(f Face, code byte) float64 { return float64(advances[f][code]) / unitsPerEm }

func thousandth(units int) int { return int(math.Round(float64(units) * 1000 / unitsPerEm)) }

// Width is how wide a string is in mm at a size in points, by the advances of the face. A character that the face lacks
// counts as the question mark that stands in for it.
func Width(f Face, s string, sizePt float64) float64 {
	table := &advances[f]
	sum := 0
	for i := 0; i < len(s); {
		if b := s[i]; b >= ' ' && b < 0x7f && (i+1 == len(s) || s[i+1] < 0x80) {
			sum += int(table[b])
			i++
			continue
		}
		code, size, _ := next(s[i:])
		sum += int(table[code])
		i += size
	}
	return float64(sum) * (sizePt * millimetre / unitsPerEm)
}

// CapHeight is the height of a flat capital letter in em.
func CapHeight(f Face) float64 { return float64(measures[f].capHeight) / unitsPerEm }

// DigitHeight is the height of the highest digit in em, from the baseline.
func DigitHeight(f Face) float64 { return float64(measures[f].digitHeight) / unitsPerEm }

// SizeFor is the size in points at which a capital letter of the Regular face, seen from a distance in mm, fills an angle
// in minutes of arc. Source: cap height = 2 × distance × tan(angle / 2), plain geometry.
func SizeFor(distanceMM, minutes float64) float64 {
	half := minutes / 2 / 60 * math.Pi / 180
	return 2 * distanceMM * math.Tan(half) / CapHeight(Regular) / millimetre
}
