package compare

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"unicode"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
)

// little are words that carry no meaning of their own between two versions of a phrase.
var little = []string{
	"a", "an", "the", "its", "is", "are", "be", "it", "that", "this", "of", "in", "on", "from", "to", "at", "by", "with", "for",
	"and", "then", "into", "onto", "through", "there", "all", "both", "each", "every",
}

// turning are words that turn the meaning of a phrase round.
var turning = []string{
	"not", "never", "no", "don't", "do not", "cannot", "can't", "without", "only", "before", "after", "until", "unless", "if",
	"left", "right", "up", "down", "above", "below", "top", "bottom", "inner", "outer", "first", "last", "open", "closed", "shut",
	"more", "less", "least", "most", "clockwise", "anticlockwise",
}

// words cuts a text into folded words without punctuation; a number keeps its point.
func words(s string) []string {
	all := strings.FieldsFunc(procedure.Fold(s), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune(".'±°%/·", r)
	})
	var out []string
	for _, w := range all {
		if w = strings.Trim(w, ".'"); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// gist is a phrase without what can be worded otherwise: its words that carry meaning, in order, plurals made singular.
func gist(s string) string {
	var out []string
	for _, w := range words(s) {
		if !slices.Contains(little, w) {
			out = append(out, singular(w))
		}
	}
	return strings.Join(out, " ")
}

// singular takes the plainest plural off a word: enough to hold two versions of one phrase together.
func singular(w string) string {
	if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
		return w[:len(w)-1]
	}
	return w
}

// telling gives what can't be worded otherwise in running prose: its figures, and words that turn a meaning round.
func telling(s string) string {
	var out []string
	for _, w := range words(s) {
		if strings.ContainsFunc(w, unicode.IsDigit) || slices.Contains(turning, w) {
			out = append(out, w)
		}
	}
	return strings.Join(out, " ")
}

// plain squeezes white space.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

// mostShown is how many letters of a text are shown: a safety message is shown whole, an essay is not.
const mostShown = 300

// cut shortens a text that is only shown.
func cut(s string) string {
	if r := []rune(plain(s)); len(r) > mostShown {
		return string(r[:mostShown-1]) + "…"
	}
	return plain(s)
}

// value is a quantity as a field; none is what is shown when it is not there.
func value(v *quantity.Value, none string) field {
	if v == nil {
		return field{"", none}
	}
	low, high := v.SI()
	kind := quantity.Kind(0)
	if v.Unit != nil {
		kind = v.Unit.Kind
	}
	return field{fmt.Sprint(kind, " ", v.Form == quantity.Tolerance, " ", exact(low), " ", exact(high), " ", exact(v.Middle())), v.Running()}
}

func exact(r *big.Rat) string {
	if r == nil {
		return "open"
	}
	return r.RatString()
}

// torque is a tightening torque as a field.
func torque(t procedure.Torque) field {
	switch {
	case t.HandTight:
		return field{"hand-tight", "hand-tight"}
	case t.BySetting:
		return field{"by setting", "by setting"}
	case t.Value == nil && t.Angle == nil:
		return field{"", "no torque"}
	}
	return together(value(t.Value, ""), value(t.Angle, ""), " then ")
}

// together joins two fields; an empty one is not shown.
func together(a, b field, between string) field {
	shown := a.shown
	if shown != "" && b.shown != "" {
		shown += between
	}
	return field{a.meaning + "\x00" + b.meaning, shown + b.shown}
}

// texts joins pieces of front matter.
func texts(list []procedure.Text) string {
	var all []string
	for _, t := range list {
		all = append(all, plain(t.Value))
	}
	return strings.Join(all, "; ")
}

// orNone shows "none" for nothing.
func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// phrase is a text as a field: its gist counts.
func phrase(s string) field { return field{gist(s), orNone(cut(s))} }
