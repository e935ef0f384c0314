package record

import (
	"strings"
	"unicode"

	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// eachMeasure visits the measurements that were read whole.
func eachMeasure(j *rules.Job, visit func(*procedure.Act)) {
	for _, a := range j.Doing(verb.Measured) {
		if isMeasure(a) {
			visit(a)
		}
	}
}

func isMeasure(a *procedure.Act) bool { return a.Verb.Effect == verb.Measured && !a.Broken }

// nameAt is the place of what is measured: the words of the tag up to the limit.
func nameAt(a *procedure.Act) source.Span {
	text := a.At.Text()
	if i := strings.Index(text, a.Name); i >= 0 && a.Name != "" {
		return a.At.File.At(a.At.Start+i, a.At.Start+i+len(a.Name))
	}
	return a.At
}

// holds tells whether text has any of some words, as whole words and without regard to case.
func holds(text string, list ...string) bool {
	fields := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
	padded := " " + strings.Join(fields, " ") + " "
	for _, w := range list {
		if strings.Contains(padded, " "+w+" ") {
			return true
		}
	}
	return false
}

// share tells whether two texts have a word of four letters or more in common.
func share(a, b string) bool {
	for _, w := range strings.Fields(strings.ToLower(a)) {
		if len(w) >= 4 && holds(b, strings.Trim(w, ".,;:()")) {
			return true
		}
	}
	return false
}

// stepText is all that a step says, its notes among it.
func stepText(s *procedure.Step) string {
	var b strings.Builder
	b.WriteString(procedure.RunText(s.Runs))
	for _, list := range [][]procedure.Remark{s.Before, s.Notes} {
		for _, m := range list {
			if m.Note != nil {
				b.WriteString(" " + procedure.RunText(m.Note.Runs))
			}
		}
	}
	return b.String()
}
