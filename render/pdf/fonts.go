package pdf

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"sync"

	"refitcard/render/faces"
)

// weight is how bold a face is, on the scale of 100 to 900.
func weight(face name) int {
	if string(face) == faces.Name(faces.Bold) {
		return 700
	}
	return 400
}

// widths are those of each face by its name, for the codes from 32, in thousandths of an em.
var widths = sync.OnceValue(func() map[name]word {
	out := map[name]word{}
	for _, f := range faces.All() {
		var b bytes.Buffer
		var list array
		for code := ' '; code <= 0xff; code++ {
			list = append(list, decimal(1000*faces.Advance(f, byte(code))))
		}
		put(&b, list)
		out[name(faces.Name(f))] = word(b.String())
	}
	return out
})

// packedCharacterMap is the same for all faces and all sheets.
var packedCharacterMap = sync.OnceValue(func() []byte { return deflate([]byte(characterMap())) })

// characterMap says which character each code stands for (ISO 32000-1, 9.10.3), so that text can be copied out and
// searched. A space at which no line may break counts as any other: nobody types it into a search box.
func characterMap() string {
	var lines []string
	for code := range 256 {
		if r := faces.Rune(byte(code)); r != 0 {
			if r == '\u00a0' {
				r = ' '
			}
			lines = append(lines, fmt.Sprintf("<%02X> <%04X>\n", code, r))
		}
	}
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<00> <FF>\nendcodespacerange\n")
	for part := range slices.Chunk(lines, 100) { // the format's limit for one list
		fmt.Fprintf(&b, "%d beginbfchar\n%sendbfchar\n", len(part), strings.Join(part, ""))
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.String()
}
