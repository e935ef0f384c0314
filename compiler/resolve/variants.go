package resolve

import (
	"cmp"
	"iter"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

func (r *resolver) variantsOf(t procedure.Text) []procedure.Text {
	var found []procedure.Text
	for v := range splitCommas(t) {
		if r.variant(v) {
			found = append(found, procedure.Text{Value: r.variantName(v.Value), At: v.At})
			continue
		}
		// What it was meant to be, else a variant that no machine has: a row must not count for all of them.
		found = append(found, procedure.Text{Value: cmp.Or(r.nearVariant(v.Value), v.Value), At: v.At})
	}
	return found
}

// splitCommas cuts a text at commas and "and", each piece with its place.
func splitCommas(t procedure.Text) iter.Seq[procedure.Text] {
	return func(yield func(procedure.Text) bool) {
		text := t.Value
		for at := 0; at <= len(text); {
			end := strings.IndexByte(text[at:], ',')
			skip := 1
			if and := strings.Index(text[at:], " and "); and >= 0 && (end < 0 || and < end) {
				end, skip = and, len(" and ")
			}
			if end < 0 {
				end = len(text) - at
			}
			piece := text[at : at+end]
			from := t.At.Start + at + len(piece) - len(strings.TrimLeft(piece, " "))
			if word := strings.TrimSpace(piece); word != "" && !yield(procedure.Text{Value: word, At: t.At.File.At(from, from+len(word))}) {
				return
			}
			at += end + skip
		}
	}
}

// variant tells whether the procedure has the variant, and reports it when not.
func (r *resolver) variant(v procedure.Text) bool {
	var names []string
	for _, k := range r.p.Variants {
		if procedure.Fold(k.Value) == procedure.Fold(v.Value) {
			return true
		}
		names = append(names, k.Value)
	}
	r.fault("variant/unknown", v.At, append([]string{v.Value, r.nearVariant(v.Value)}, names...)...)
	return false
}

func (r *resolver) nearVariant(s string) string {
	var names []string
	for _, k := range r.p.Variants {
		names = append(names, k.Value)
	}
	return verb.Near(s, names)
}

func (r *resolver) variantName(s string) string {
	for _, k := range r.p.Variants {
		if procedure.Fold(k.Value) == procedure.Fold(s) {
			return k.Value
		}
	}
	return s
}
