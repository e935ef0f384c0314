package faces

import (
	"slices"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// upper is what the codes from 0x80 mean: Windows code page 1252 (from the table cp1252.map that comes with fpdf, which
// follows the registered IANA set windows-1252). Nineteen places, five of them unused there, hold signs of the workshop; the soft hyphen has none.
var upper = [128]rune{
	'€', '☐', '‚', '☑', '„', '…', '✓', '⚠', '≤', '‰', 'Š', '‹', 'Œ', '≥', 'Ž', '⌀',
	'Ω', '‘', '’', '“', '”', '•', '–', '—', '→', '™', 'š', '›', 'œ', '∠', 'ž', 'Ÿ',
	'\u00a0', '¡', '−', '£', '≈', 'Δ', '←', '§', '↑', '©', '↓', '«', '′', 0, '®', '″',
	'°', '±', '²', '³', '≠', 'µ', '¶', '·', '¸', '¹', 'º', '»', '¼', '½', '¾', '¿',
	'À', 'Á', 'Â', 'Ã', 'Ä', 'Å', 'Æ', 'Ç', 'È', 'É', 'Ê', 'Ë', 'Ì', 'Í', 'Î', 'Ï',
	'Ð', 'Ñ', 'Ò', 'Ó', 'Ô', 'Õ', 'Ö', '×', 'Ø', 'Ù', 'Ú', 'Û', 'Ü', 'Ý', 'Þ', 'ß',
	'à', 'á', 'â', 'ã', 'ä', 'å', 'æ', 'ç', 'è', 'é', 'ê', 'ë', 'ì', 'í', 'î', 'ï',
	'ð', 'ñ', 'ò', 'ó', 'ô', 'õ', 'ö', '÷', 'ø', 'ù', 'ú', 'û', 'ü', 'ý', 'þ', 'ÿ',
}

// synonyms are characters that are drawn as another that looks the same or does the same work.
var synonyms = map[rune]rune{
	'\u2126': 'Ω',                                                                  // ohm sign
	'\u2206': 'Δ',                                                                  // increment
	'\u03bc': 'µ',                                                                  // Greek letter
	'\u2205': '⌀',                                                                  // empty set, often typed for the diameter sign
	'\u2714': '✓',                                                                  // heavy check mark
	'\u22c5': '·',                                                                  // dot operator
	'\u2010': '-',                                                                  // hyphen
	'\u2011': '-',                                                                  // hyphen at which no line breaks
	'\u2007': '\u00a0', '\u202f': '\u00a0', '\u2009': '\u00a0', '\u200a': '\u00a0', // narrow spaces
	'\t': ' ', '\n': ' ', '\r': ' ', '\u2028': ' ', '\u2029': ' ', // white of other kinds
	// What is not seen has the code 0, which draws nothing: soft hyphen, places to break, joiners, choice of emoji.
	'\u00ad': 0, '\u200b': 0, '\u200c': 0, '\u200d': 0, '\u2060': 0, '\ufeff': 0, '\ufe0e': 0, '\ufe0f': 0,
}

// standIn is drawn for a character that no face has.
const standIn = '?'

// place is one entry of the table of codes above 0x7f, sorted by character.
type place struct {
	r    rune
	code byte
}

var places = sortedPlaces()

func sortedPlaces() []place {
	var out []place
	for i, r := range upper {
		if r == 0 {
			continue
		}
		out = append(out, place{r, byte(0x80 + i)})
	}
	for from, to := range synonyms {
		code := byte(to)
		if to >= 0x80 {
			code = byte(0x80 + slices.Index(upper[:], to))
		}
		out = append(out, place{from, code})
	}
	slices.SortFunc(out, func(a, b place) int { return int(a.r - b.r) })
	return out
}

// Rune is the character that a code stands for, and 0 where it stands for none: below 0x20, at 0x7f and at 0xad.
func Rune(code byte) rune {
	switch {
	case code >= 0x80:
		return upper[code-0x80]
	case code < ' ' || code == 0x7f:
		return 0
	}
	return rune(code)
}

// Missing is a character that no face has, and where it stands in the string, in bytes.
type Missing struct {
	Rune   rune
	Offset int
}

// Encode turns a string into the codes of the faces. What they lack becomes a question mark and is reported. A letter
// and the accents that follow it are put together first.
func Encode(s string) ([]byte, []Missing) {
	out := make([]byte, 0, len(s))
	var missing []Missing
	for i := 0; i < len(s); {
		if b := s[i]; b >= ' ' && b < 0x7f && (i+1 == len(s) || s[i+1] < 0x80) {
			out = append(out, b)
			i++
			continue
		}
		code, size, ok := next(s[i:])
		if !ok {
			r, _ := utf8.DecodeRuneInString(s[i:])
			missing = append(missing, Missing{r, i})
		}
		if code != 0 {
			out = append(out, code)
		}
		i += size
	}
	return out, missing
}

// next reads one character from the front of s, with the accents that follow it: its code (0 draws nothing), its size in
// bytes, and whether the faces have it.
func next(s string) (code byte, size int, ok bool) {
	r, size := utf8.DecodeRuneInString(s)
	if size < len(s) && s[size] >= 0x80 {
		if mark, n := utf8.DecodeRuneInString(s[size:]); unicode.Is(unicode.Mn, mark) {
			whole := []rune(norm.NFC.String(s[:size+n]))
			if len(whole) == 1 {
				r, size = whole[0], size+n
			}
		}
	}
	if r >= ' ' && r < 0x7f {
		return byte(r), size, true
	}
	if i, found := slices.BinarySearchFunc(places, r, func(p place, r rune) int { return int(p.r - r) }); found {
		return places[i].code, size, true
	}
	return standIn, size, false
}
