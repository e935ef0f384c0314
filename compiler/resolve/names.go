package resolve

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/procedure"
)

// token is a word or a mark of punctuation of a tag, with its bytes in the tag's text.
type token struct {
	text       string // folded
	start, end int
	hash       uint32
	punct      bool
}

// tokens cuts text into words and punctuation, and puts them behind others. A hyphen between letters parts words, so that
// "end-cover" is "end cover"; a point or comma inside a figure belongs to it.
func tokens(all []token, s string) []token {
	for i := 0; i < len(s); {
		r, n := runeAt(s, i)
		switch {
		case isGap(r) || r == '-' && i > 0:
			i += n
			continue
		case punctuation(r) || r == '.':
			all = append(all, token{s[i : i+n], i, i + n, hashOf(s[i : i+n]), true})
			i += n
			continue
		}
		start, folded := i, true
		for i < len(s) {
			if c := s[i]; 'a' <= c && c <= 'z' || isDigit(c) {
				i++
				continue
			}
			r, n := runeAt(s, i)
			if isGap(r) || r == '-' && i > start || punctuation(r) {
				break
			}
			if r == '.' && !(i > start && isDigit(s[i-1]) && i+1 < len(s) && isDigit(s[i+1])) {
				break
			}
			folded = folded && r == '.'
			i += n
		}
		word := s[start:i]
		if !folded {
			word = procedure.Fold(word)
		}
		if word != "" { // a lone hyphen is no word
			all = append(all, token{word, start, i, hashOf(word), false})
		}
	}
	return all
}

// hashOf is the FNV-1a hash of a word.
func hashOf(word string) uint32 {
	h := uint32(2166136261)
	for i := range len(word) {
		h = (h ^ uint32(word[i])) * 16777619
	}
	return h
}

func runeAt(s string, i int) (rune, int) {
	if s[i] < utf8.RuneSelf {
		return rune(s[i]), 1
	}
	return utf8.DecodeRuneInString(s[i:])
}

// isGap tells whether a rune parts words; so does a hyphen inside one.
func isGap(r rune) bool { return r == ' ' || r == '‑' || unicode.IsSpace(r) }

// punctuation tells whether a rune is a mark of its own; a point inside a figure is none.
func punctuation(r rune) bool {
	switch r {
	case ',', ';', ':', '(', ')', '!', '?', '"':
		return true
	}
	return false
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// numberWords are the counts that may be written as words, from one.
var numberWords = []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// countOf reads a count: digits, or one to twelve.
func countOf(s string) (int, bool) {
	if s == "" || !isDigit(s[0]) {
		n := slices.Index(numberWords, s) + 1
		return n, n > 0
	}
	n := 0
	for i := range len(s) {
		if !isDigit(s[i]) || i > 5 {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, true
}

func preposition(w string) bool {
	switch w {
	case "in", "on", "from", "to", "at", "by", "with", "of", "through", "over", "under", "for", "against", "into", "onto", "until":
		return true
	}
	return false
}

// stop tells whether a word that is not the first one ends a name.
func stop(w string) bool {
	switch w {
	case "a", "an", "the", "one", "half", "so", "while", "as", "again", "first", "last", "back", "up", "down", "out", "off", "away",
		"together", "crosswise", "hand", "finger", "then", "or":
		return true
	}
	return false
}

// boundary tells whether a token ends a name: a preposition, a stop word, an adverb, or "hand-tight".
func boundary(t []token, i int, first bool) bool {
	w := t[i].text
	if preposition(w) {
		return true
	}
	if len(w) > 3 && strings.HasSuffix(w, "ly") && !first {
		return true
	}
	if (w == "hand" || w == "finger") && !(i+1 < len(t) && t[i+1].text == "tight") {
		return false
	}
	return !first && stop(w)
}

// singular makes the last word of a free name singular, so that "both faces" and "the face" are one thing.
func singular(name string) string {
	cut := strings.LastIndexByte(name, ' ') + 1
	w := name[cut:]
	switch {
	case w == "feet":
		w = "foot"
	case w == "teeth":
		w = "tooth"
	case len(w) > 4 && strings.HasSuffix(w, "ies"):
		w = w[:len(w)-3] + "y"
	case len(w) > 4 && (strings.HasSuffix(w, "xes") || strings.HasSuffix(w, "ches") || strings.HasSuffix(w, "shes") || strings.HasSuffix(w, "sses")):
		return name[:len(name)-2]
	case len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") && !strings.HasSuffix(w, "us") && !strings.HasSuffix(w, "is"):
		return name[:len(name)-1]
	default:
		return name
	}
	return name[:cut] + w
}
