package source

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Steers tells whether a character steers a terminal, or turns the order of what is read, instead of being read itself: control
// characters of ASCII and Latin-1, and those that open, close and override a direction of writing.
func Steers(r rune) bool {
	return r < ' ' || 0x7f <= r && r < 0xa0 || 0x202a <= r && r <= 0x202e || 0x2066 <= r && r <= 0x2069
}

// Plain is text for one line of a terminal: what steers it, line ends too, becomes a mark that something stands there.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		if Steers(r) {
			return utf8.RuneError
		}
		return r
	}, s)
}

// PlainLines is Plain for a text of several lines: line ends and tabs stay.
func PlainLines(s string) string {
	return strings.Map(func(r rune) rune {
		if Steers(r) && r != '\n' && r != '\t' {
			return utf8.RuneError
		}
		return r
	}, s)
}

// PlainJSON escapes in JSON what steers a terminal: to whoever reads it as JSON it stays the same.
func PlainJSON(data []byte) []byte {
	if !strings.ContainsFunc(string(data), func(r rune) bool { return Steers(r) && r != '\n' && r != '\t' }) {
		return data
	}
	var b strings.Builder
	for _, r := range string(data) {
		if Steers(r) && r != '\n' && r != '\t' {
			fmt.Fprintf(&b, `\u%04x`, r)
			continue
		}
		b.WriteRune(r)
	}
	return []byte(b.String())
}
