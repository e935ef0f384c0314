package report

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/diag"
)

// said puts a finding into sentences: what is wrong, in which variants, and what to do.
func said(f diag.Finding) string {
	message := f.Message
	if len(f.Variants) > 0 {
		message += " (" + strings.Join(f.Variants, ", ") + ")"
	}
	if f.Do == "" {
		return sentence(message)
	}
	return sentence(message) + " " + sentence(f.Do)
}

// sentence gives words a capital and a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	first, n := utf8.DecodeRuneInString(s)
	if n > 0 && !strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		s += "."
	}
	return string(unicode.ToUpper(first)) + s[n:]
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
