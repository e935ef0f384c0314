package assembly

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// lostBefore tells whether a thing is named in an act that could not be read: what that act would have done to it is not known.
func (l *ledger) lostBefore(at int, name string) bool {
	return name != "" && slices.ContainsFunc(l.lost, func(m mute) bool {
		return m.at <= at && (strings.Contains(m.name, " "+name+" ") || strings.Contains(m.name, " "+procedure.Fold(procedure.Plural(name))+" "))
	})
}

// muteBroken silences what an act that could not be read may have been about.
func (l *ledger) muteBroken(a *procedure.Act) {
	l.muteWords(a.Words)
	l.prove() // it may have been the check that is asked for
	l.cleared = true
}

// tooManyLost is how many tags may be lost before the ledger says no more: what it has missed by then would be all that it tells.
const tooManyLost = 100

// muteWords silences the declared names in the words of a tag, those near them in spelling, and those that share a word of
// four letters with them; names that are met later are held against the words by lostBefore.
func (l *ledger) muteWords(typed string) {
	if len(l.lost) >= tooManyLost {
		if !l.deaf {
			l.deaf, l.deafAt = true, l.clock
		}
		return
	}
	text := procedure.Fold(typed)
	words := strings.Fields(text)
	tail := text
	if len(words) > 1 {
		rest := words[1:]
		for len(rest) > 1 && (isArticle(rest[0]) || strings.Trim(rest[0], "0123456789") == "") {
			rest = rest[1:]
		}
		tail = strings.Join(rest, " ")
	}
	words = strings.Fields(strings.ReplaceAll(text, "-", " "))
	alike := alikeIn(words)
	check := func(name string) {
		folded := strings.ReplaceAll(procedure.Fold(name), "-", " ")
		plural := strings.ReplaceAll(procedure.Fold(procedure.Plural(name)), "-", " ")
		hit := strings.Contains(text, folded) || strings.Contains(text, plural) || verb.Near(tail, []string{folded, plural}) != "" ||
			nearly(words, folded) || nearly(words, plural)
		if hit || slices.ContainsFunc(strings.Fields(folded), alike) {
			l.mute(name)
		}
	}
	for _, p := range l.p.Parts {
		check(p.Name.Value)
	}
	for _, s := range l.p.Supplies {
		check(s.Name.Value)
	}
	for _, t := range l.openings {
		check(t.is.name)
	}
	for _, t := range l.isolated {
		check(t.name)
	}
	for _, list := range []things[named]{l.waits, l.marks} {
		for _, t := range list {
			check(t.name)
		}
	}
	l.mutes = append(l.mutes, mute{l.clock, tail})
	l.lost = append(l.lost, mute{l.clock, " " + strings.Map(unpointed, text) + " "})
}

// alikeIn gives what tells whether a word of four letters or more, or its plural, is nearly one of some words. It remembers:
// many names share a word.
func alikeIn(words []string) func(string) bool {
	known := map[string]bool{}
	return func(w string) bool {
		if len(w) < 4 {
			return false
		}
		hit, ok := known[w]
		if !ok {
			plural := procedure.Plural(w)
			hit = slices.ContainsFunc(words, func(o string) bool {
				o = strings.Trim(o, ".,;:")
				return o == w || o == plural || len(o) >= 4 && verb.Near(o, []string{w, plural}) != ""
			})
			known[w] = hit
		}
		return hit
	}
}

func isArticle(w string) bool {
	switch w {
	case "the", "a", "an", "its", "new", "old", "all", "both", "each", "every", "other", "remaining":
		return true
	}
	return false
}

// unpointed drops punctuation.
func unpointed(r rune) rune {
	if strings.ContainsRune(",;:.()", r) {
		return -1
	}
	return r
}

// nearly tells whether as many words in a row as a name has nearly spell it.
func nearly(words []string, name string) bool {
	n := len(strings.Fields(name))
	for i := 0; i+n <= len(words); i++ {
		if phrase := strings.Map(unpointed, strings.Join(words[i:i+n], " ")); !small(phrase) && verb.Near(phrase, []string{name}) != "" {
			return true
		}
	}
	return false
}

// small lists the words that would be near to any short name.
func small(word string) bool {
	switch word {
	case "a", "an", "the", "new", "old", "all", "its", "of", "and":
		return true
	}
	return false
}
