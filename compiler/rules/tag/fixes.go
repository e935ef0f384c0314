package tag

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// spellVerb offers the verb that was meant. Where it is two words, such as "lock off", both are written anew.
func spellVerb(j *rules.Job, f source.Fault, near string) []diag.Fix {
	at := f.At
	if strings.Contains(near, " ") {
		rest := string(at.File.Text[at.End:])
		gap := len(rest) - len(strings.TrimLeft(rest, " "))
		word := strings.IndexAny(rest[gap:], " :}\r\n")
		if gap == 0 || word < 0 {
			return nil
		}
		at.End += gap + word
	}
	return rules.Spell(at, at.Text(), near, j.Verbs.Spellings())
}

// point offers the figure with a decimal point. It is the same figure, and so safe, where a unit stands behind it and it can't be
// a thousand: "1,500" may be either.
func point(f source.Fault) []diag.Fix {
	if f.At.Text() != f.Words[0] {
		return nil
	}
	_, decimals, _ := strings.Cut(f.Words[0], ",")
	before := f.At.File.Text[:f.At.Start]
	alone := len(before) == 0 || !strings.ContainsRune("0123456789.,", rune(before[len(before)-1]))
	safe := alone && len(decimals) != 3 && unitFollows(string(f.At.File.Text[f.At.End:]))
	return []diag.Fix{{Safe: safe, Title: "write " + rules.Quote(f.Words[1]), Edits: []diag.Edit{{At: f.At, Text: f.Words[1]}}}}
}

// unitFollows tells whether a text begins with a unit.
func unitFollows(s string) bool {
	s = strings.TrimLeft(s, " \u00a0")
	if i := strings.IndexAny(s, "\r\n}|,;()"); i >= 0 {
		s = s[:i]
	}
	word, _, _ := strings.Cut(s, " ")
	_, ok := quantity.UnitNamed(strings.TrimRight(word, "."))
	return ok
}
