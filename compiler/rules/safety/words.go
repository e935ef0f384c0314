package safety

import (
	"iter"
	"strings"
	"unicode"
)

// wordList is the words of a text in lower case, without marks.
func wordList(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' })
}

// set makes a set of words.
func set(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

func hasAny(text string, words map[string]bool) bool {
	for w := range wordsOf(text) {
		if words[w] {
			return true
		}
	}
	return false
}

// wordsOf goes through the words of a text in lower case, without marks.
func wordsOf(text string) iter.Seq[string] {
	return func(yield func(string) bool) {
		low, from := strings.ToLower(text), -1
		for i, r := range low {
			switch wordy := unicode.IsLetter(r) || unicode.IsDigit(r) || r == '\''; {
			case wordy && from < 0:
				from = i
			case !wordy && from >= 0:
				if !yield(low[from:i]) {
					return
				}
				from = -1
			}
		}
		if from >= 0 {
			yield(low[from:])
		}
	}
}
