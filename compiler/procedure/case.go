package procedure

import (
	"unicode"
	"unicode/utf8"
)

// Capital makes the first letter of a sentence large, in any script.
func Capital(s string) string { return first(s, unicode.ToUpper) }

// Small makes it small.
func Small(s string) string { return first(s, unicode.ToLower) }

func first(s string, change func(rune) rune) string {
	r, n := utf8.DecodeRuneInString(s)
	if n < 1 || r == utf8.RuneError {
		return s
	}
	return string(change(r)) + s[n:]
}
