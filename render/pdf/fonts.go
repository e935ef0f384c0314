package pdf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"refitcard/compiler/letters"
	"refitcard/render/faces"
)

// fontSet tells which fonts a sheet uses, by face and set.
type fontSet [3][letters.Count]bool

// resourceName is what the pages call a font.
func resourceName(f faces.Font) string { return resourceNames[f.Face][f.Set] }

var resourceNames = func() (out [3][letters.Count]string) {
	for i, f := range faces.Fonts() {
		out[f.Face][f.Set] = "F" + strconv.Itoa(i+1)
	}
	return out
}()

// fontParts are what a file holds of a font, but for the references from one to another. They are the same for all sheets,
// so they are made once.
type fontParts struct {
	file       stream
	descriptor dict
	characters stream
	widths     word
}

var parts = func() (out [3][letters.Count]func() fontParts) {
	for _, f := range faces.Fonts() {
		out[f.Face][f.Set] = sync.OnceValue(func() fontParts { return partsOf(f) })
	}
	return out
}()

// The flags of a font descriptor that are used here (ISO 32000-1, table 123). A font with codes of its own is symbolic.
const (
	fixedPitch = 1 << 0
	symbolic   = 1 << 2
)

func partsOf(f faces.Font) fontParts {
	outlines, length := f.Outlines()
	m := f.Measures()
	flags, weight := symbolic, 400
	switch f.Face {
	case faces.Mono:
		flags |= fixedPitch
	case faces.Bold:
		weight = 700
	}
	var widths array
	for code := ' '; code <= 0xff; code++ { // not rounded to thousandths: over a line that is a hair's breadth
		widths = append(widths, decimal(1000*f.Advance(byte(code))))
	}
	return fontParts{
		file: stream{dict{"Filter": name("FlateDecode"), "Length1": integer(length)}, outlines},
		descriptor: dict{
			"Type": name("FontDescriptor"), "FontName": name(f.Name()), "Flags": integer(flags), "ItalicAngle": integer(0),
			"Ascent": integer(m.Ascent), "Descent": integer(m.Descent), "CapHeight": integer(m.CapHeight), "StemV": integer(m.StemV),
			"FontBBox": array{integer(m.Box[0]), integer(m.Box[1]), integer(m.Box[2]), integer(m.Box[3])},
			// Strict readers want these of a tagged file.
			"FontFamily": words(f.Name()), "FontStretch": name("Normal"), "FontWeight": integer(weight),
		},
		characters: packed(nil, []byte(characterMap(f.Set))),
		widths:     word(put(nil, widths)),
	}
}

// fonts writes the fonts that a sheet uses; it gives the dictionary by which the pages find them.
func (o *output) fonts(used fontSet) dict {
	out := dict{}
	for _, f := range faces.Fonts() {
		if !used[f.Face][f.Set] {
			continue
		}
		p := parts[f.Face][f.Set]()
		about := dict{"FontFile2": o.add(p.file)}
		for k, v := range p.descriptor {
			about[k] = v
		}
		out[name(resourceName(f))] = o.add(dict{
			"Type": name("Font"), "Subtype": name("TrueType"), "BaseFont": name(f.Name()),
			"FirstChar": integer(' '), "LastChar": integer(0xff), "Widths": o.add(p.widths),
			"FontDescriptor": o.add(about), "ToUnicode": o.add(p.characters),
		})
	}
	return out
}

// characterMap says which character each code stands for (ISO 32000-1, 9.10.3), so that text can be copied out and
// searched: codes that follow one another and whose characters do are one line. A space at which no line may break counts as
// any other: nobody types it into a search box.
func characterMap(set letters.Set) string {
	type run struct {
		first, last int // codes
		stands      rune
	}
	var runs []run
	for code := range 256 {
		r := letters.Rune(set, byte(code))
		if r == 0 {
			continue
		}
		if r == '\u00a0' {
			r = ' '
		}
		// The last byte of a character may not run over within a line.
		if n := len(runs) - 1; n >= 0 && runs[n].last == code-1 && runs[n].stands+rune(code-runs[n].first) == r && r&0xff != 0 {
			runs[n].last = code
			continue
		}
		runs = append(runs, run{code, code, r})
	}
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<00> <FF>\nendcodespacerange\n")
	for part := range slices.Chunk(runs, 100) { // the format's limit for one list
		fmt.Fprintf(&b, "%d beginbfrange\n", len(part))
		for _, r := range part {
			fmt.Fprintf(&b, "<%02X> <%02X> <%04X>\n", r.first, r.last, r.stands)
		}
		b.WriteString("endbfrange\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.String()
}
