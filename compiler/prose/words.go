package prose

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// word is one word of a sentence, in lower case, with its bytes in the text and the punctuation that stands around it.
type word struct {
	text     string
	from, to int
	before   string // opening marks: "(" and quotes
	after    string // closing marks and stops
}

// tokens cuts a text into words. Punctuation alone is no word: it is put behind the word before it.
func tokens(s string) []word {
	var all []word
	for i := 0; i < len(s); {
		if r, n := utf8.DecodeRuneInString(s[i:]); unicode.IsSpace(r) {
			i += n
			continue
		}
		end := i
		for end < len(s) {
			r, n := utf8.DecodeRuneInString(s[end:])
			if unicode.IsSpace(r) {
				break
			}
			end += n
		}
		from, to := i, end
		for from < to && !wordy(s[from:]) {
			_, n := utf8.DecodeRuneInString(s[from:])
			from += n
		}
		for to > from {
			r, n := utf8.DecodeLastRuneInString(s[:to])
			if isWordy(r) {
				break
			}
			to -= n
		}
		if from == to {
			if len(all) > 0 {
				all[len(all)-1].after += s[i:end]
			}
		} else {
			all = append(all, word{strings.ToLower(s[from:to]), from, to, s[i:from], s[to:end]})
		}
		i = end
	}
	return all
}

func wordy(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return isWordy(r)
}

func isWordy(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '°' || r == '%' || r == '±' || r == '\''
}

// Count counts the words of a sentence as ASD-STE100 does in general lines (issue 9, 5.1, read in a restatement): a
// hyphenated word is one, a figure is one, and what stands in brackets is left out.
func Count(s string) int {
	n, depth := 0, 0
	for _, w := range tokens(s) {
		depth += strings.Count(w.before, "(") + strings.Count(w.before, "[")
		if depth <= 0 {
			n++
		}
		depth -= strings.Count(w.after, ")") + strings.Count(w.after, "]")
		depth += strings.Count(w.after, "(") + strings.Count(w.after, "[")
	}
	return n
}

// Span is a part of a text, bytes From up to To.
type Span struct{ From, To int }

// shortened are words whose stop ends no sentence.
var shortened = words("e.g i.e approx etc no nos fig figs max min vs st dia dept ref para sec ch vol incl excl temp cf viz resp rem assy")

// longestShortened is the length of the longest of them.
const longestShortened = len("approx")

// Cut cuts a text into its sentences, without the space around them. A stop inside a figure, behind a single letter or
// behind a shortened word ends none; a semicolon and a line end do.
func Cut(text string) []Span {
	var all []Span
	for s, next := First(text, 0); s.To > 0; s, next = First(text, next) {
		all = append(all, s)
	}
	return all
}

// First gives the first sentence of a text behind the byte from, and where to look for the next one. The zero Span tells that
// there is none.
func First(text string, from int) (s Span, next int) {
	for from < len(text) {
		next = end(text, from)
		start, stop := from, next
		for start < stop && (text[start] == ' ' || text[start] == '\n') {
			start++
		}
		for stop > start && (text[stop-1] == ' ' || text[stop-1] == '\n') {
			stop--
		}
		if stop > start {
			return Span{start, stop}, next
		}
		from = next
	}
	return Span{}, from
}

// end is the byte behind the sentence that begins at from.
func end(text string, from int) int {
	for i := from; i < len(text); i++ {
		switch text[i] {
		case '\n', ';':
			return i + 1
		case '.', '!', '?':
			if i+1 < len(text) && text[i+1] != ' ' && text[i+1] != '\n' && text[i+1] != '"' && text[i+1] != ')' {
				continue
			}
			if text[i] == '.' && open(text[from:i]) {
				continue
			}
			return i + 1
		}
	}
	return len(text)
}

// open tells whether the last word before a stop is a shortened one.
func open(s string) bool {
	last := s[max(strings.LastIndexByte(s, ' '), strings.LastIndexByte(s, '('))+1:]
	if len(last) > longestShortened || strings.Contains(last, "·") {
		return false // also a unit such as N·m
	}
	last = strings.ToLower(last)
	return shortened[last] || len(last) == 1 && 'a' <= last[0] && last[0] <= 'z'
}

// anyOf tells whether one of the words is in a set.
func anyOf(list []word, set map[string]bool) bool {
	for _, w := range list {
		if set[w.text] {
			return true
		}
	}
	return false
}
