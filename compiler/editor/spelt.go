package editor

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// wordsIn finds words in a span, from an offset within it on, whatever their case, with any white space or a hyphen between them.
func wordsIn(in source.Span, words string, from int) (at source.Span, ok bool) {
	text, want := in.Text(), strings.Fields(procedure.Fold(words))
	for i := from; i < len(text) && len(want) > 0; i++ {
		if i > 0 && !gap(text[i-1]) {
			continue
		}
		if n := spelt(text[i:], want); n > 0 {
			return in.File.At(in.Start+i, in.Start+i+n), true
		}
	}
	return source.Span{}, false
}

// spelt gives how many bytes at the start of text spell the words, 0 when they do not stand there whole.
func spelt(text string, words []string) int {
	i := 0
	for k, w := range words {
		if k > 0 {
			start := i
			for i < len(text) && (gap(text[i]) || text[i] == '-') {
				i++
			}
			if i == start && !digitBefore(text, i) {
				return 0
			}
		}
		if len(text)-i < len(w) || procedure.Fold(text[i:i+len(w)]) != w {
			return 0
		}
		i += len(w)
	}
	if i < len(text) && !gap(text[i]) && strings.IndexByte(",.;:)}", text[i]) < 0 {
		return 0
	}
	return i
}

func gap(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '(' || c == '{' }

func digitBefore(s string, i int) bool { return i > 0 && '0' <= s[i-1] && s[i-1] <= '9' }
