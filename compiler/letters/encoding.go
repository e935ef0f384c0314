package letters

import (
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// standIn is drawn for a character that no set has.
const standIn = '?'

// Missing is a character that no set has, and where it stands in the string, in bytes.
type Missing struct {
	Rune   rune
	Offset int
}

// Run is a piece of a string whose characters all stand in one set.
type Run struct {
	Set   Set
	Codes []byte
}

// Encode turns a string into codes, cut where the set changes. What the sets lack becomes a question mark and is reported.
// A letter and the accents that follow it are put together first.
func Encode(s string) ([]Run, []Missing) {
	var runs []Run
	var missing []Missing
	codes, set, begun := make([]byte, 0, len(s)), Common, 0
	for i := 0; i < len(s); {
		to, code, size, ok := Next(s[i:])
		if !ok {
			r, _ := utf8.DecodeRuneInString(s[i:])
			missing = append(missing, Missing{r, i})
		}
		i += size
		if code == 0 {
			continue
		}
		if to != set && (code != ' ' || len(codes) == 0) { // a space stays in the set of the word before it
			if len(codes) > begun {
				runs = append(runs, Run{set, codes[begun:]})
			}
			set, begun = to, len(codes)
		}
		codes = append(codes, code)
	}
	if len(codes) > begun {
		runs = append(runs, Run{set, codes[begun:]})
	}
	return runs, missing
}

// Next reads one character from the front of s, which is not empty, with the accents that follow it: its set and code (0
// draws nothing), its size in bytes, and whether the sets have it. A question mark stands for what they lack.
func Next(s string) (set Set, code byte, size int, ok bool) {
	if b := s[0]; b >= ' ' && b < 0x7f && (len(s) == 1 || s[1] < 0x80) {
		return Common, b, 1, true
	}
	r, size := utf8.DecodeRuneInString(s)
	if size < len(s) && s[size] >= 0x80 {
		r, size = joined(s, r, size)
	}
	p := placeOf(r)
	if p == 0 && r > 0x7f { // another spelling of a character, as the sign of the ohm is
		if one, n := utf8.DecodeRuneInString(norm.NFC.String(string(r))); n > 0 && one != r {
			p = placeOf(one)
		}
	}
	if p == 0 {
		return Common, standIn, size, false
	}
	return p.set(), p.code(), size, true
}

// mostMarks is how many accents a letter can take: no letter of the sets is made of more.
const mostMarks = 2

// joined gives the letter at the front of s together with the accents after it, as many as make one character of a set.
func joined(s string, r rune, size int) (rune, int) {
	end := size
	out, length := r, size
	for range mostMarks {
		mark, n := utf8.DecodeRuneInString(s[end:])
		if n == 0 || !unicode.Is(unicode.Mn, mark) {
			break
		}
		end += n
		whole := norm.NFC.String(s[:end])
		if one, n := utf8.DecodeRuneInString(whole); n == len(whole) && placeOf(one) != 0 {
			out, length = one, end
		}
	}
	return out, length
}
