package letters

import (
	"encoding/binary"
	"unicode"
	"unicode/utf8"
)

// Shown tells whether each character of a text has a place in a set. It is quick, and says no also to letters whose accents
// are typed behind them.
func Shown(text []byte) bool {
	const beyond = 0x8080808080808080 // the bits that no letter of ASCII has
	for i := 0; i < len(text); {
		if i+8 <= len(text) && binary.LittleEndian.Uint64(text[i:])&beyond == 0 {
			i += 8
			continue
		}
		if text[i] < utf8.RuneSelf {
			i++
			continue
		}
		r, size := utf8.DecodeRune(text[i:])
		if placeOf(r) == 0 {
			return false
		}
		i += size
	}
	return true
}

// Lacks gives the first piece of s that no set can show: characters that stand together, with the white between them, and
// the letter that an accent stands on. ok is false where there is none.
func Lacks(s string) (start, end int, ok bool) {
	last := 0
	for i := 0; i < len(s); {
		_, _, size, has := Next(s[i:])
		r, _ := utf8.DecodeRuneInString(s[i:])
		if !has {
			if !ok {
				start, ok = i, true
				if unicode.Is(unicode.Mn, r) {
					start = last
				}
			}
			end = i + size
		} else if ok && !unicode.IsSpace(r) {
			return start, end, true
		}
		last = i
		i += size
	}
	return start, end, ok
}
