package rules

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// EachStep visits all steps in order, sub-steps behind their parents.
func (j *Job) EachStep(visit func(*procedure.Step)) { j.Proc.EachStep(visit) }

// EachAct visits all acts in order, then those of starts and leaves, then the tags of notes.
func (j *Job) EachAct(visit func(*procedure.Act)) {
	j.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			visit(a)
		}
	})
	for _, list := range [][]*procedure.Act{j.Proc.Starts, j.Proc.Leaves, j.Proc.Spoken} {
		for _, a := range list {
			visit(a)
		}
	}
}

// Muted tells whether a fault of an earlier stage is about a declared thing, or about words that may have meant it: then a
// second finding would only say the same slip again.
func (j *Job) Muted(name string) bool {
	folded := procedure.Fold(name)
	for _, f := range j.Faults {
		if f.Thing != "" && procedure.Fold(f.Thing) == folded {
			return true
		}
		for _, w := range f.Words {
			if w != "" && broken(f.Name) && meant(procedure.Fold(w), folded) {
				return true
			}
		}
		if f.Name == "tag/unknown-verb" || f.Name == "tag/misplaced" || f.Name == "tag/unclosed" {
			if meant(procedure.Fold(tagText(f.At)), folded) {
				return true
			}
		}
	}
	return slices.ContainsFunc(brokenWords.Of(j), func(words string) bool { return meant(words, folded) })
}

// brokenWords are the folded words of the acts that could not be read.
var brokenWords = NewFact(func(j *Job) []string {
	var all []string
	j.EachAct(func(a *procedure.Act) {
		if a.Broken {
			all = append(all, procedure.Fold(a.Words))
		}
	})
	return all
})

// tagText gives the words of the tag that a mark stands in, to its closing brace or the end of the line.
func tagText(at source.Span) string {
	if !at.Known() || at.Start >= len(at.File.Text) {
		return ""
	}
	text := string(at.File.Text[at.Start:])
	if end := strings.IndexAny(text, "}\n"); end >= 0 {
		text = text[:end]
	}
	return strings.Trim(text, "{")
}

// broken lists the faults whose words may have been meant for a declared name.
func broken(name string) bool {
	switch name {
	case "tag/unknown-verb", "tag/unclosed", "tag/hidden", "tag/misplaced", "part/unknown", "tool/not-listed", "tool/ambiguous",
		"supply/not-listed", "include/missing", "part/unknown-place":
		return true
	}
	return false
}

// meant tells whether words hold a name, are nearly it, or share a word of four letters with it.
func meant(words, name string) bool {
	if words == "" {
		return false
	}
	if strings.Contains(words, name) || verb.Near(words, []string{name, procedure.Fold(procedure.Plural(name))}) != "" {
		return true
	}
	for _, w := range strings.Fields(name) {
		if len(w) < 4 {
			continue
		}
		for _, o := range strings.Fields(words) {
			if o == w || o == procedure.Plural(w) || len(o) >= 4 && verb.Near(o, []string{w}) != "" {
				return true
			}
		}
	}
	return false
}

// ConditionLost tells whether a tag that makes a step conditional could not be read, or stands where it does nothing.
func (j *Job) ConditionLost() bool {
	governs := func(word string) bool { return slices.Contains([]string{"if", "otherwise", "for", "repeat"}, word) }
	return slices.ContainsFunc(j.Faults, func(f source.Fault) bool {
		switch f.Name {
		case "tag/unknown-verb":
			return governs(WordAt(f, 1))
		case "tag/misplaced":
			return governs(WordAt(f, 0))
		case "tag/unclosed":
			word, _, _ := strings.Cut(strings.ToLower(WordAt(f, 0)), " ")
			return governs(word)
		}
		return false
	})
}

// Lost tells whether a tag that could not be read, or stands where it does nothing, holds one of some words.
func (j *Job) Lost(words ...string) bool {
	return slices.ContainsFunc(j.Faults, func(f source.Fault) bool {
		switch f.Name {
		case "tag/unknown-verb", "tag/unclosed", "tag/hidden", "tag/misplaced":
			text := procedure.Fold(tagText(f.At) + " " + WordAt(f, 1))
			return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(text, w) })
		}
		return false
	})
}
