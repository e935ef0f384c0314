package safety

import (
	"strings"
	"unicode"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// told is the text of a message, or of a note, with the places of its words.
type told struct {
	text string
	runs []procedure.Run
	from []int
}

func tell(runs []procedure.Run) told {
	var t told
	var b strings.Builder
	for _, r := range runs {
		text := r.Text
		switch {
		case r.End:
			text = " "
		case r.Step != nil:
			text = r.Step.Name()
		}
		t.runs, t.from = append(t.runs, r), append(t.from, b.Len())
		b.WriteString(text)
	}
	t.text = b.String()
	return t
}

// at is the place of a part of the text; where escapes make the text unlike the source, the whole run.
func (t told) at(from, to int) source.Span {
	start, end := t.byte(from), t.byte(max(to-1, from))
	if !start.Known() || start.File != end.File {
		return start
	}
	return start.File.At(start.Start, end.End)
}

func (t told) byte(i int) source.Span {
	k := 0
	for k+1 < len(t.from) && t.from[k+1] <= i {
		k++
	}
	r := t.runs[k]
	if !r.Exact() {
		return r.At
	}
	at := min(r.At.Start+i-t.from[k], r.At.End)
	return r.At.File.At(at, min(at+1, r.At.End))
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
