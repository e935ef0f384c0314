package torque

import (
	"strings"
	"unicode"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// units offers both units that may be meant; the figure before them stays.
func units(f source.Fault) []diag.Fix {
	text := f.At.Text()
	i := strings.IndexFunc(text, unicode.IsLetter)
	if i < 0 || strings.ContainsAny(text[i:], "0123456789()") {
		return nil
	}
	at := f.At.File.At(f.At.Start+i, f.At.End)
	return rules.Offer(at, text[i:], rules.WordAt(f, 1), rules.WordAt(f, 2))
}
