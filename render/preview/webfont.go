package preview

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"

	"golang.org/x/image/font/sfnt"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
)

// webFont gives a font of the sheets as a browser takes it: the same outlines, found by characters in place of codes.
func webFont(f faces.Font) []byte {
	packed, _ := f.Outlines()
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		panic(err) // it is built in
	}
	file, err := io.ReadAll(r)
	if err != nil {
		panic(err)
	}
	return withCharacters(file, f.Set)
}

// The layout of a TrueType file and of its table of characters: ISO/IEC 14496-22 (OpenType), chapters 4 and 5.2.
const (
	headSize  = 12 // of the file, before the list of its tables
	entrySize = 16 // of that list
)

// withCharacters puts a table of characters in place of the table of codes.
func withCharacters(file []byte, set letters.Set) []byte {
	out := bytes.Clone(file)
	tables := int(binary.BigEndian.Uint16(file[4:]))
	for i := range tables {
		entry := out[headSize+i*entrySize:][:entrySize]
		if string(entry[:4]) != "cmap" {
			continue
		}
		table := characterTable(glyphsOf(file, set))
		out = append(out, make([]byte, -len(out)&3)...)
		entry = out[headSize+i*entrySize:][:entrySize] // the file may have moved
		binary.BigEndian.PutUint32(entry[4:], sumOf(table))
		binary.BigEndian.PutUint32(entry[8:], uint32(len(out)))
		binary.BigEndian.PutUint32(entry[12:], uint32(len(table)))
		return append(out, table...)
	}
	panic("a font without a table of codes") // they are built in
}

// codeBase is where the fonts keep their codes: they are symbolic, and find code 0x20 as character U+F020.
const codeBase = 0xf000

// glyphsOf finds the glyph of each character of a font that is kept by codes.
func glyphsOf(file []byte, set letters.Set) map[rune]uint16 {
	parsed, err := sfnt.Parse(file)
	if err != nil {
		panic(err) // it is built in
	}
	var b sfnt.Buffer
	glyphs := map[rune]uint16{}
	for code := range 256 {
		r := letters.Rune(set, byte(code))
		if g, err := parsed.GlyphIndex(&b, codeBase+rune(code)); r != 0 && err == nil && g != 0 {
			glyphs[r] = uint16(g)
		}
	}
	return glyphs
}

// characterTable writes a subtable of format 4, one segment a character, for Windows and Unicode.
func characterTable(glyphOf map[rune]uint16) []byte {
	var starts, deltas []uint16
	for r := rune(0); r < 0xffff; r++ { // rising
		if g, ok := glyphOf[r]; ok {
			starts, deltas = append(starts, uint16(r)), append(deltas, g-uint16(r))
		}
	}
	starts, deltas = append(starts, 0xffff), append(deltas, 1)
	n, power, exponent := len(starts), 1, 0
	for power*2 <= n {
		power, exponent = power*2, exponent+1
	}
	length := 16 + 8*n
	words := []uint16{0, 1, 3, 1, 0, 12, 4, uint16(length), 0, uint16(2 * n), uint16(2 * power), uint16(exponent), uint16(2*n - 2*power)}
	words = append(append(words, starts...), 0)
	words = append(append(words, starts...), deltas...)
	words = append(words, make([]uint16, n)...)
	var b bytes.Buffer
	if err := binary.Write(&b, binary.BigEndian, words); err != nil {
		panic(err) // a buffer takes all
	}
	return b.Bytes()
}

// sumOf is the checksum of a table.
func sumOf(table []byte) (sum uint32) {
	for i, b := range table {
		sum += uint32(b) << (24 - 8*(i%4))
	}
	return sum
}
