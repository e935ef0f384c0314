package rules

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Steps lists all steps in order, sub-steps behind their parents.
func (j *Job) Steps() []Step { return j.lists().steps }

// StepOf finds what rules ask of a step.
func (j *Job) StepOf(s *procedure.Step) *Step {
	l := j.lists()
	return &l.steps[l.place(s)]
}

// Place is where a step stands among all steps, from 0.
func (j *Job) Place(s *procedure.Step) int { return j.lists().place(s) }

// From lists the steps from one on.
func (j *Job) From(s *procedure.Step) []Step {
	l := j.lists()
	return l.steps[l.place(s):]
}

// Acts lists all acts in order, then those of starts and leaves, then the tags of notes.
func (j *Job) Acts() []*procedure.Act { return j.lists().acts }

// StepActs lists the acts of all steps.
func (j *Job) StepActs() []*procedure.Act {
	l := j.lists()
	return l.acts[:l.inSteps:l.inSteps]
}

// Doing lists the acts of steps that have an effect.
func (j *Job) Doing(e verb.Effect) []*procedure.Act { return j.lists().by[e] }

// Passages lists all that is said to a reader, in order.
func (j *Job) Passages() []Passage { return j.lists().passages }

// Messages lists the safety messages: of the job, of the stages, of the steps.
func (j *Job) Messages() []Message { return j.lists().messages }

// UsesTool tells whether a tag names a tool.
func (j *Job) UsesTool(t *procedure.Tool) bool { return j.lists().tools[t] > 0 }

// UsesSupply tells whether a tag names a supply.
func (j *Job) UsesSupply(s *procedure.Supply) bool { return j.lists().supplies[s] > 0 }

// Muted tells whether a fault of an earlier stage is about a declared thing, or about words that may have meant it: then a
// second finding would only say the same slip again.
func (j *Job) Muted(name string) bool {
	if j.lost == nil {
		j.lost = lostOf(j)
	}
	if j.lost.nothing() {
		return false
	}
	return j.lost.mutes(procedure.Fold(name))
}

// lost is what earlier stages could not make sense of. It is gathered once: many names are held against it.
type lost struct {
	things map[string]bool // declared things that a fault is about
	texts  []string        // words that may have meant something declared, folded, each once
	words  []string        // of texts, those of four letters and more, each once
	near   map[string]bool // words of names that were held against words before
}

// manyLost is from how many texts on anything at all may have been meant.
const manyLost = 100

func lostOf(j *Job) *lost {
	l := &lost{}
	acts := j.Acts()
	if len(j.Faults) == 0 && !slices.ContainsFunc(acts, func(a *procedure.Act) bool { return a.Broken }) {
		return l
	}
	l.things, l.near = map[string]bool{}, map[string]bool{}
	seen := map[string]bool{}
	add := func(text string) {
		if text = procedure.Fold(text); text != "" && !seen[text] {
			seen[text] = true
			l.texts = append(l.texts, text)
		}
	}
	for _, f := range j.Faults {
		if f.Thing != "" {
			l.things[procedure.Fold(f.Thing)] = true
		}
		for _, w := range f.Words {
			if broken(f.Name) {
				add(w)
			}
		}
		if f.Name == "tag/unknown-verb" || f.Name == "tag/misplaced" || f.Name == "tag/unclosed" {
			add(tagText(f.At))
		}
	}
	for _, a := range acts {
		if a.Broken {
			add(a.Words)
		}
	}
	for _, t := range l.texts {
		for _, w := range strings.Fields(t) {
			if len(w) >= 4 && !seen[" "+w] {
				seen[" "+w] = true
				l.words = append(l.words, w)
			}
		}
	}
	return l
}

// nothing tells that all was understood.
func (l *lost) nothing() bool { return len(l.things) == 0 && len(l.texts) == 0 }

// mutes tells whether a folded name is one of the things, or may have been meant by one of the texts: they hold it, are nearly
// it, or share a word of four letters with it.
func (l *lost) mutes(name string) bool {
	if l.things[name] || len(l.texts) > manyLost {
		return true
	}
	if len(l.texts) == 0 {
		return false
	}
	names := []string{name, procedure.Fold(procedure.Plural(name))}
	for _, t := range l.texts {
		if strings.Contains(t, name) || verb.Near(t, names) != "" {
			return true
		}
	}
	for _, w := range strings.Fields(name) {
		if len(w) >= 4 && l.speaks(w) {
			return true
		}
	}
	return false
}

// speaks tells whether a word of a name is nearly one of the words.
func (l *lost) speaks(w string) bool {
	said, known := l.near[w]
	if !known {
		plural := procedure.Plural(w)
		said = slices.ContainsFunc(l.words, func(o string) bool { return o == w || o == plural || verb.Near(o, []string{w}) != "" })
		l.near[w] = said
	}
	return said
}

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
