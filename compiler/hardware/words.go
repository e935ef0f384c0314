package hardware

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// words are the words of a name, made fit to compare: lower case, without the s of a plural, a space before, between and behind
// them. They are asked for many phrases, of which few begin with a letter that one of them begins with.
type words struct {
	spaced  []byte
	letters uint32 // the first bytes, each a bit: no phrase is there whose bit is missing
}

// wordsOf cuts a name at white space and hyphens, and at the bytes of more, into room.
func wordsOf(room []byte, name, more string) words {
	w := words{spaced: append(room, ' ')}
	start := len(w.spaced)
	for i := 0; i < len(name); {
		b := name[i]
		if b >= utf8.RuneSelf {
			r, n := utf8.DecodeRuneInString(name[i:])
			i += n
			if r == '\u2011' || unicode.IsSpace(r) {
				start = w.end(start)
			} else {
				w.spaced = utf8.AppendRune(w.spaced, unicode.ToLower(r))
			}
			continue
		}
		i++
		switch {
		case b == '-' || b == ' ' || '\t' <= b && b <= '\r' || strings.IndexByte(more, b) >= 0:
			start = w.end(start)
		case 'A' <= b && b <= 'Z':
			w.spaced = append(w.spaced, b+'a'-'A')
		default:
			w.spaced = append(w.spaced, b)
		}
	}
	w.end(start)
	return w
}

// end ends the word that began at start, and gives where the next one begins.
func (w *words) end(start int) int {
	word := w.spaced[start:]
	if len(word) == 0 {
		return start
	}
	w.letters |= letter(word[0])
	if n := len(word); n > 3 && word[n-1] == 's' && word[n-2] != 's' && string(word) != "pliers" {
		w.spaced = w.spaced[:len(w.spaced)-1]
	}
	w.spaced = append(w.spaced, ' ')
	return len(w.spaced)
}

func letter(b byte) uint32 { return 1 << (b & 31) }

// has tells whether they hold some words as a whole.
func (w words) has(phrase string) bool {
	if w.letters&letter(phrase[0]) == 0 {
		return false
	}
	for from := 1; from+len(phrase) < len(w.spaced); {
		if end := from + len(phrase); string(w.spaced[from:end]) == phrase && w.spaced[end] == ' ' {
			return true
		}
		from += bytes.IndexByte(w.spaced[from:], ' ') + 1
	}
	return false
}

// hasAny tells whether they hold one of some phrases.
func (w words) hasAny(phrases ...string) bool {
	for _, p := range phrases {
		if w.has(p) {
			return true
		}
	}
	return false
}

// endIn tells whether a word is the last one.
func (w words) endIn(word string) bool {
	n := len(w.spaced) - len(word) - 2
	return n >= 0 && w.spaced[n] == ' ' && string(w.spaced[n+1:len(w.spaced)-1]) == word
}

// before is the word in front of the first one that is this, empty when there is none.
func (w words) before(word string) string {
	for from := 1; from < len(w.spaced); {
		end := from + bytes.IndexByte(w.spaced[from:], ' ')
		if string(w.spaced[from:end]) == word {
			if from == 1 {
				return ""
			}
			return string(w.spaced[bytes.LastIndexByte(w.spaced[:from-1], ' ')+1 : from-1])
		}
		from = end + 1
	}
	return ""
}

// ending tells whether one of them ends in some letters.
func (w words) ending(letters string) bool {
	for rest := w.spaced; ; {
		i := bytes.IndexByte(rest, ' ')
		if i < 0 {
			return false
		}
		if bytes.HasSuffix(rest[:i], []byte(letters)) {
			return true
		}
		rest = rest[i+1:]
	}
}

// hasWord tells whether s begins with a word in any case, with no letter behind it.
func hasWord(s, word string) bool {
	if len(s) < len(word) {
		return false
	}
	for i := range len(word) {
		if s[i] != word[i] && (s[i]|0x20 != word[i]|0x20 || !isLetter(word[i])) {
			return false
		}
	}
	return len(s) == len(word) || !unicode.IsLetter(rune(s[len(word)]))
}

func isLetter(b byte) bool { return 'a' <= b|0x20 && b|0x20 <= 'z' }

// figured tells whether a figure may begin here: most words can't be a thread, a size or a quantity, and need no closer look.
func figured(s string) bool {
	return s != "" && (isDigit(s[0]) || s[0] == '-' || strings.HasPrefix(s, "−"))
}

// behindFigure is what stands behind the digits, points, strokes and spaces of a figure and its sign.
func behindFigure(s string) string {
	return strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(s, "−"), "-"), "0123456789./ ")
}
