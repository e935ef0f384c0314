package procedure

import (
	"bytes"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Fold makes a name fit to compare: case folded, NFC, a hyphen is a space, one space between words.
func Fold(name string) string {
	folded := true // most names are written as they fold
	for i := range len(name) {
		b := name[i]
		switch {
		case b >= 0x80:
			return foldWide(name)
		case 'A' <= b && b <= 'Z', b == '-', '\t' <= b && b <= '\r':
			folded = false
		case b == ' ' && (i == 0 || i+1 == len(name) || name[i+1] == ' '):
			folded = false
		}
	}
	if folded {
		return name
	}
	var room [roomForName]byte
	out := room[:0]
	for i := range len(name) {
		b := name[i]
		switch {
		case b == '-', b == ' ', '\t' <= b && b <= '\r':
			if n := len(out); n > 0 && out[n-1] != ' ' {
				out = append(out, ' ')
			}
			continue
		case 'A' <= b && b <= 'Z':
			b += 'a' - 'A'
		}
		out = append(out, b)
	}
	return string(bytes.TrimRight(out, " "))
}

// roomForName is how many bytes nearly all names need while they are folded.
const roomForName = 64

// foldWide folds names with letters beyond ASCII. A hyphen that does not break is a hyphen, a space that does not break a space.
func foldWide(name string) string {
	var room [roomForName]byte
	out := room[:0]
	gap, dotted := false, false
	if strings.ContainsFunc(name, composes) {
		name = norm.NFC.String(name)
	}
	for _, r := range name {
		if 'a' <= r && r <= 'z' || '0' <= r && r <= '9' {
			if gap {
				out, gap = append(out, ' '), false
			}
			out, dotted = append(out, byte(r)), r == 'i'
			continue
		}
		r = unicode.ToLower(r)
		if r == '-' || r == '\u2011' || unicode.IsSpace(r) {
			gap, dotted = len(out) > 0, false
			continue
		}
		if r == '\u0307' && dotted { // the dot on a small Turkish i
			dotted = false
			continue
		}
		dotted = r == 'i'
		if gap {
			out, gap = append(out, ' '), false
		}
		out = utf8.AppendRune(out, alike(r))
	}
	if string(out) == name {
		return name
	}
	return string(out)
}

// composes tells whether a rune may be written in another way, or joins the one before it. Letters of the west, dashes, quotation
// marks, dots and the sign of multiplication never do.
func composes(r rune) bool { return r >= 0x300 && (r < 0x2010 || r > 0x2027) }

// alike gives one of the letters that are one in capitals, or that are typed for each other: the sigma at the end of a Greek
// word, the Turkish i without a dot, the Romanian s and t with a comma or a cedilla.
func alike(r rune) rune {
	switch r {
	case 'ς':
		return 'σ'
	case 'ı':
		return 'i'
	case 'ş':
		return 'ș'
	case 'ţ':
		return 'ț'
	}
	return r
}

// Plural gives the plural of a name: of its last word, or of the word before "of". A name that is not English stays as it is.
func Plural(name string) string {
	if foreign(name) {
		return name
	}
	end := len(name)
	if i := strings.Index(name, " of "); i > 0 {
		end = i
	}
	cut := strings.LastIndexAny(name[:end], " -") + 1
	drop, add := pluralEnd(name[cut:end])
	if add == "" {
		return name
	}
	return name[:end-drop] + add + name[end:]
}

// pluralEnd gives what the plural of a word ends in, and in place of how many of its last bytes.
func pluralEnd(w string) (drop int, add string) {
	low := strings.ToLower(w)
	switch low { // shop words that do not follow the rules; none of them takes a plain s
	case "":
		return 0, ""
	case "foot":
		return 3, "eet"
	case "tooth":
		return 4, "eeth"
	case "chassis", "pliers", "means":
		return len(w) - 1, low[1:]
	}
	ends := func(s string) bool { return strings.HasSuffix(low, s) }
	switch low[len(low)-1] {
	case 's', 'x', 'z':
		return 0, "es"
	case 'h':
		if ends("ch") || ends("sh") {
			return 0, "es"
		}
	case 'y':
		if len(low) > 1 && !strings.ContainsRune("aeiou", rune(low[len(low)-2])) {
			return 1, "ies"
		}
	case 'e':
		if ends("fe") {
			return 2, "ves"
		}
	case 'f':
		if ends("leaf") || ends("half") || ends("shelf") || ends("calf") {
			return 1, "ves"
		}
	}
	return 0, "s"
}

// foreign tells whether a name has a word of three letters or more, one of them not of the west of Europe: it is no English
// name, and English has no plural of it. A sign such as Ω is no word.
func foreign(name string) bool {
	if !strings.ContainsFunc(name, func(r rune) bool { return r > 0xff }) {
		return false
	}
	letters, beyond := 0, false
	for _, r := range name {
		if !unicode.IsLetter(r) {
			letters, beyond = 0, false
			continue
		}
		letters++
		beyond = beyond || r > 0xff
		if beyond && letters > 2 {
			return true
		}
	}
	return false
}

// CountName puts a count before a name: "1 cover bolt", "12 cover bolts".
func CountName(n int, name string) string {
	if n == 1 {
		return "1 " + name
	}
	return strconv.Itoa(n) + " " + Plural(name)
}
