// Package letters says which characters a printed sheet can show, and by which codes its fonts know them.
//
// A font of a sheet has 8-bit codes, so the characters are dealt out to several sets, each a font file of its own: a sheet
// holds only the files whose characters it shows. The first set is all that an English card needs: Windows code page 1252
// with nineteen seldom-used places given to signs of the workshop. The others hold a space, so that a run of words stays
// in one set, and what the first one lacks.
package letters

// Set is a set of characters with codes from 0x20.
type Set uint8

// The sets there are. The Go fonts have every character in them, but for a few signs that come from elsewhere; beyond
// them, those fonts have only parts of letters and drawings for terminals.
const (
	Common   Set = iota // Latin of the west of Europe, figures, signs of the workshop
	Latin               // the rest of Latin: Polish, Czech, Hungarian, Romanian, Baltic, Turkish, Maltese, Welsh
	Greek               // modern Greek, with one accent
	Cyrillic            // Russian, Ukrainian, Belarusian, Bulgarian, Serbian, Macedonian
	Signs               // fractions of eighths, small figures, arrows, geometric shapes
	Count               // how many there are
)

// Sets gives every set, in order.
func Sets() []Set { return []Set{Common, Latin, Greek, Cyrillic, Signs} }

// Title is the name of a set as it stands in the name of a font; the first one has none.
func (s Set) Title() string { return [Count]string{"", "Latin", "Greek", "Cyrillic", "Signs"}[s] }

// upper is what the codes from 0x80 of the first set mean: Windows code page 1252 (from the table cp1252.map that comes
// with fpdf, which follows the registered IANA set windows-1252). Nineteen places, five of them unused there, hold signs of
// the workshop; the soft hyphen has none.
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

// others are the characters of the sets after the first, as pairs of first and last, in the order of their codes. What the
// first set has is passed over: each character has one place.
var others = [Count][][2]rune{
	// Latin Extended-A; florin; letters with caron of pinyin, ring and stroke; Romanian comma below; Welsh.
	Latin: {{0x0100, 0x017f}, {0x0192, 0x0192}, {0x01cd, 0x01dc}, {0x01fa, 0x01ff}, {0x0218, 0x021b}, {0x1e80, 0x1e85}, {0x1ef2, 0x1ef3}},
	// 0x0387 is written 0x00b7, and 0x03a2 is none.
	Greek: {{0x0384, 0x0386}, {0x0388, 0x038a}, {0x038c, 0x038c}, {0x038e, 0x03a1}, {0x03a3, 0x03ce}},
	// With the apostrophe that is a letter of Ukrainian.
	Cyrillic: {{0x0400, 0x045f}, {0x0490, 0x0491}, {Apostrophe, Apostrophe}},
	Signs: {
		{0x02c6, 0x02c7},
		{0x02c9, 0x02c9},
		{0x02d8, 0x02dd},
		{0x2015, 0x2015},
		{0x2017, 0x2017},
		{0x201b, 0x201b},
		{0x2020, 0x2021},
		{0x203c, 0x203c},
		{0x203e, 0x203e},
		{0x2044, 0x2044},
		{0x2070, 0x2070},
		{0x2074, 0x208e},
		{0x20a3, 0x20a4},
		{0x20a7, 0x20a7},
		{0x2105, 0x2105},
		{0x2113, 0x2113},
		{0x2116, 0x2116},
		{0x212e, 0x212e},
		{0x215b, 0x215e},
		{0x2194, 0x2195},
		{0x2202, 0x2202},
		{0x220f, 0x220f},
		{0x2211, 0x2211},
		{0x2215, 0x2215},
		{0x2219, 0x221a},
		{0x221e, 0x221f},
		{0x2229, 0x2229},
		{0x222b, 0x222b},
		{0x2261, 0x2261},
		{0x2302, 0x2302},
		{0x25a0, 0x25a1},
		{0x25aa, 0x25ac},
		{0x25b2, 0x25b2},
		{0x25ba, 0x25ba},
		{0x25bc, 0x25bc},
		{0x25c4, 0x25c4},
		{0x25ca, 0x25cb},
		{0x25cf, 0x25cf},
		{0x25d8, 0x25d9},
		{0x25e6, 0x25e6},
		{0x2640, 0x2640},
		{0x2642, 0x2642},
		{0x2660, 0x2660},
		{0x2663, 0x2663},
		{0x2665, 0x2666},
		{0xfb01, 0xfb02},
	},
}

// Apostrophe is a letter that no font here has; it is drawn as the closing quotation mark, which looks the same.
const Apostrophe = '\u02bc'

// synonyms are characters that are drawn as another that looks the same or does the same work.
var synonyms = map[rune]rune{
	'\u2205': '⌀',                                                                  // empty set, often typed for the diameter sign
	'\u2206': 'Δ',                                                                  // increment
	'\u2714': '✓',                                                                  // heavy check mark
	'\u22c5': '·',                                                                  // dot operator
	'\u2010': '-',                                                                  // hyphen
	'\u2011': '-',                                                                  // hyphen at which no line breaks
	'\u2007': '\u00a0', '\u202f': '\u00a0', '\u2009': '\u00a0', '\u200a': '\u00a0', // narrow spaces
	'\t': ' ', '\n': ' ', '\r': ' ', '\u2028': ' ', '\u2029': ' ', // white of other kinds
	// What is not seen has the code 0, which draws nothing: soft hyphen, places to break, joiners, choice of emoji.
	'\u00ad': 0, '\u200b': 0, '\u200c': 0, '\u200d': 0, '\u2060': 0, '\ufeff': 0, '\ufe0e': 0, '\ufe0f': 0,
}

// tables holds the character of each code of each set, 0 where a code means none.
var tables = dealt()

func dealt() (out [Count][256]rune) {
	for c := ' '; c < 0x7f; c++ {
		out[Common][c] = c
	}
	copy(out[Common][0x80:], upper[:])
	known := map[rune]bool{}
	for _, r := range out[Common] {
		known[r] = true
	}
	for set := Latin; set < Count; set++ {
		out[set][' '] = ' '
		code := 0x80 // then those below, which in part have to be marked off inside a string
		for _, span := range others[set] {
			for r := span[0]; r <= span[1]; r++ {
				if known[r] {
					continue
				}
				out[set][code] = r
				if code++; code == 0x100 {
					code = ' ' + 1
				}
			}
		}
	}
	return out
}

// Rune is the character that a code of a set stands for, and 0 where it stands for none.
func Rune(set Set, code byte) rune { return tables[set][code] }

// place is where a character stands: its set and code, with a bit that tells it from no place.
type place uint16

const somewhere place = 1 << 15

func (p place) set() Set   { return Set(p >> 8 & 0x7f) }
func (p place) code() byte { return byte(p) }

// places leads from characters to codes, by pages of 256; no character of a set lies beyond U+FFFF.
var places = turned()

func turned() (out [256]*[256]place) {
	put := func(r rune, p place) {
		page := &out[r>>8]
		if *page == nil {
			*page = new([256]place)
		}
		(*page)[r&0xff] = p | somewhere
	}
	for set := range tables {
		for code, r := range tables[set] {
			if r != 0 && (r != ' ' || Set(set) == Common) {
				put(r, place(set)<<8|place(code))
			}
		}
	}
	for from, to := range synonyms {
		if to == 0 {
			put(from, 0)
			continue
		}
		put(from, out[to>>8][to&0xff])
	}
	return out
}

func placeOf(r rune) place {
	if r < 0 || r > 0xffff || places[r>>8] == nil {
		return 0
	}
	return places[r>>8][r&0xff]
}
