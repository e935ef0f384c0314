package tidy

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/quantity"
)

// doubtful are spellings of units that are words or letters of other things too, such as a C clamp or a foot valve, and units
// whose plural is a word: they stay as typed.
const doubtful = " C F d foot feet turn turns day days week weeks pound pounds second mil "

// spelt writes each quantity of a text with its unit in the one spelling: "22Nm" is "22 N·m". Figures stay as typed. mark stands
// between the ends of a range.
func spelt(text, mark string) string {
	var b strings.Builder
	for at := 0; at < len(text); {
		if begins(text, at) {
			if words, n := respelt(text[at:], mark); n > 0 {
				b.WriteString(words)
				at += n
				continue
			}
			n := figure(text[at:])
			b.WriteString(text[at : at+n])
			at += n
			continue
		}
		_, size := utf8.DecodeRuneInString(text[at:])
		b.WriteString(text[at : at+size])
		at += size
	}
	return b.String()
}

// begins tells whether a figure begins here that is not the tail of a word, a thread or another figure.
func begins(text string, at int) bool {
	if text[at] < '0' || text[at] > '9' {
		return false
	}
	r, _ := utf8.DecodeLastRuneInString(text[:at])
	return at == 0 || !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune(".,/×#-−–_·%°\\", r)
}

// figure is how many bytes of digits and what joins them stand at the start.
func figure(s string) int {
	n := 0
	for n < len(s) && (s[n] >= '0' && s[n] <= '9' || s[n] == '.' || s[n] == ',') {
		n++
	}
	return max(n, 1)
}

// respelt reads a quantity, perhaps with a second one in brackets, and gives it in the one spelling; n is 0 when none stands there.
func respelt(s, mark string) (words string, n int) {
	v, n, p := quantity.Prefix(s)
	if at := strings.IndexByte(s, '('); p != nil && p.Fault == "tag/dual-mismatch" && at > 0 {
		v, n, p = quantity.Prefix(strings.TrimRight(s[:at], " ")) // each of the two is spelt for itself
	}
	if n == 0 || p != nil {
		return "", 0
	}
	first, rest := s[:n], ""
	if v.Second != nil {
		at := strings.IndexByte(first, '(')
		first, rest = first[:at], first[at:]
	}
	words, ok := single(strings.TrimRight(first, " \t\u00a0\u202f\u2009"), v.Form, v.Unit, mark)
	if !ok {
		return "", 0
	}
	if rest == "" {
		return words, n
	}
	inner := strings.Trim(rest, "() \t\u00a0\u202f\u2009")
	second, ok := single(inner, v.Second.Form, v.Second.Unit, mark)
	if !ok {
		return "", 0
	}
	return words + " (" + second + ")", n
}

// single spells one quantity: figure and unit, or two figures and the unit of both.
func single(s string, form quantity.Form, unit *quantity.Unit, mark string) (string, bool) {
	one, n := quantity.NumberPrefix(s)
	rest := trim(s[n:])
	if form == quantity.Exact {
		return joined(one.Typed, rest, unit)
	}
	sign := ""
	for _, m := range []string{"±", "+/-", "+-", "...", "..", "…", "–", "—", "to", "-"} {
		if strings.HasPrefix(rest, m) {
			sign, rest = m, trim(rest[len(m):])
			break
		}
	}
	two, k := quantity.NumberPrefix(rest)
	if sign == "" || k == 0 || trim(rest[k:]) == "" {
		return "", false // a unit behind the first figure
	}
	head := one.Typed + mark
	if form == quantity.Tolerance {
		head = one.Typed + " ±"
	}
	return joined(head+two.Typed, trim(rest[k:]), unit)
}

// joined puts a unit behind a figure.
func joined(figures, typed string, unit *quantity.Unit) (string, bool) {
	name := unit.Name
	if strings.Contains(doubtful, " "+typed+" ") {
		name = typed
	}
	if unit.Joined || unit.Name == "%" {
		return figures + name, name == unit.Name
	}
	return figures + " " + name, true
}

func trim(s string) string { return strings.TrimLeft(s, " \t\u00a0\u202f\u2009") }

var thread = regexp.MustCompile(`\bM\d+(?:\.\d+)?(?: ?[xX×] ?\d+(?:\.\d+)?){1,2}\b`)

// specified spells a Spec: its quantities, and the sign between the figures of a metric thread.
func specified(cell string) string {
	return spelt(thread.ReplaceAllStringFunc(cell, func(s string) string {
		return strings.NewReplacer(" ", "", "x", "×", "X", "×").Replace(s)
	}), "..")
}
