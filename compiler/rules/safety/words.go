package safety

import (
	"strings"
	"sync"
	"unicode"

	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

// told is the text of a message, or of a note, with the places of its words.
type told struct {
	procedure.Joined
	text string
}

// The groups of phrases that are looked for in a message in one pass, before it is read closely.
const (
	papers = iota // what points elsewhere may point to
	deaths        // stems of the words that mortal finds
)

var finder = sync.OnceValue(func() *rules.Finder {
	return rules.NewFinder([][]string{
		papers: {"page", "manual", "handbook", "chapter", "section", "appendix", "instructions", "data sheet", "drawing"},
		deaths: {"kill", "fatal", "lethal", "deadly", "death", "die", "electrocute"},
	}...)
})

// has tells whether a phrase of a group may stand in the text.
func (t told) has(group int) bool { return finder().In([]byte(t.text))&(1<<group) != 0 }

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
	low, from := strings.ToLower(text), -1
	for i, r := range low {
		switch wordy := unicode.IsLetter(r) || unicode.IsDigit(r) || r == '\''; {
		case wordy && from < 0:
			from = i
		case !wordy && from >= 0:
			if words[low[from:i]] {
				return true
			}
			from = -1
		}
	}
	return from >= 0 && words[low[from:]]
}
