package safety

import (
	"strings"
	"unicode"

	"refitcard/compiler/procedure"
)

// told is the text of a message, or of a note, with the places of its words.
type told struct {
	procedure.Joined
	text string
}

func tell(runs []procedure.Run) told {
	var t told
	var b strings.Builder
	for _, r := range runs {
		t.Join(r, b.Len())
		b.WriteString(r.Read())
	}
	t.text = b.String()
	return t
}

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
	for _, w := range wordList(text) {
		if words[w] {
			return true
		}
	}
	return false
}
