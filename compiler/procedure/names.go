package procedure

import (
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
	out := make([]byte, 0, len(name))
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
	return strings.TrimRight(string(out), " ")
}

// alike are letters that are one in capitals, or that are typed for each other: the sigma at the end of a Greek word, the
// Turkish i with and without a dot, the Romanian s and t with a comma or a cedilla.
var alike = strings.NewReplacer("ς", "σ", "i\u0307", "i", "ı", "i", "ş", "ș", "ţ", "ț")

// foldWide folds names with letters beyond ASCII. A hyphen that does not break is a hyphen, a space that does not break a space.
func foldWide(name string) string {
	name = alike.Replace(strings.ToLower(norm.NFC.String(name)))
	out := make([]byte, 0, len(name)+4)
	gap := false
	for _, r := range name {
		if r == '-' || r == '\u2011' || unicode.IsSpace(r) {
			gap = len(out) > 0
			continue
		}
		if gap {
			out, gap = append(out, ' '), false
		}
		out = utf8.AppendRune(out, r)
	}
	return string(out)
}

// irregular lists shop words whose plural does not follow the rules; none of them takes a plain s.
var irregular = map[string]string{"foot": "feet", "tooth": "teeth", "chassis": "chassis", "pliers": "pliers", "means": "means"}

// Plural gives the plural of a name: of its last word, or of the word before "of". A name that is not English stays as it is.
func Plural(name string) string {
	if foreign(name) {
		return name
	}
	head, tail := name, ""
	if i := strings.Index(name, " of "); i > 0 {
		head, tail = name[:i], name[i:]
	}
	cut := strings.LastIndexAny(head, " -") + 1
	return head[:cut] + pluralWord(head[cut:]) + tail
}

func pluralWord(w string) string {
	low := strings.ToLower(w)
	ends := func(s ...string) bool {
		for _, e := range s {
			if strings.HasSuffix(low, e) {
				return true
			}
		}
		return false
	}
	if p, ok := irregular[low]; ok {
		return w[:1] + p[1:]
	}
	switch {
	case w == "":
		return w
	case ends("s", "x", "z", "ch", "sh"):
		return w + "es"
	case ends("y") && len(low) > 1 && !strings.ContainsRune("aeiou", rune(low[len(low)-2])):
		return w[:len(w)-1] + "ies"
	case ends("fe"):
		return w[:len(w)-2] + "ves"
	case ends("leaf", "half", "shelf", "calf"):
		return w[:len(w)-1] + "ves"
	}
	return w + "s"
}

// foreign tells whether a name has a word of three letters or more, one of them not of the west of Europe: it is no English
// name, and English has no plural of it. A sign such as Ω is no word.
func foreign(name string) bool {
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
