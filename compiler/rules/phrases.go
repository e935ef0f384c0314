package rules

import "sync"

// Phrases are words that a rule looks for in what is said. Those of all rules are looked for in one pass over each passage: a
// first look that saves the slow one, as with Finder.
type Phrases struct{ bit uint64 }

// phrases are the groups of all rules. They are complete when the program begins.
var phrases [][]string

// NewPhrases makes a group from its phrases, in small letters. It belongs at the head of a package: rules that run share the
// finder that is made of all groups.
func NewPhrases(list ...string) *Phrases {
	if len(phrases) == 64 {
		panic("a finder takes 64 groups of phrases")
	}
	phrases = append(phrases, list)
	return &Phrases{1 << (len(phrases) - 1)}
}

// anyPhrase stands for all groups: rules differ in how they read the end of a line and the number of another step.
const anyPhrase = 1<<64 - 1

var phraseFinder = sync.OnceValue(func() *Finder { return NewFinder(phrases...) })

// MayBeIn tells whether one of the phrases may stand in a passage. Where it says no, none does.
func (p *Phrases) MayBeIn(said *Passage) bool { return said.may&p.bit != 0 }
