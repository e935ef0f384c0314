package source

import (
	"crypto/sha256"
	"encoding/base32"
	"unicode"

	"golang.org/x/text/width"
)

// Width counts the columns that s takes on a terminal: wide characters of East Asia two, combining marks none.
func Width(s string) int {
	n := 0
	for _, r := range s {
		switch k := width.LookupRune(r).Kind(); {
		case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Me, r) || unicode.Is(unicode.Cf, r):
		case k == width.EastAsianWide || k == width.EastAsianFullwidth:
			n += 2
		default:
			n++
		}
	}
	return n
}

// Digest is what a card carries of its source: SHA-256 over the files in order, the first 40 bits in base 32 (RFC 4648).
func Digest(files ...*File) string {
	h := sha256.New()
	for _, f := range files {
		h.Write(f.Raw())
	}
	return base32.StdEncoding.EncodeToString(h.Sum(nil)[:5])
}
