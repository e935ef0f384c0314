package wording

import (
	"strings"
	"sync"

	"refitcard/compiler/rules"
)

// The groups of phrases that are looked for in all files of a procedure in one pass: behind these two the synonyms, then the
// joints, a group each.
const (
	vagueGroup = iota
	modalGroup
	lateGroup
	firstSynonyms
)

var sourceFinder = sync.OnceValue(func() *rules.Finder {
	groups := [][]string{vagueGroup: vagueStems, modalGroup: modals, lateGroup: {" if "}}
	for _, group := range synonyms {
		var stems []string
		for _, word := range group {
			stems = append(stems, word[1:])
		}
		groups = append(groups, stems)
	}
	for _, two := range joints {
		groups = append(groups, []string{two[1:], strings.Replace(two, " ", "", 1)[1:]})
	}
	return rules.NewFinder(groups...)
})

// inSource is the groups that may stand in a file of the procedure; written says so for certain.
var inSource = rules.NewFact(func(j *rules.Job) (groups uint64) {
	for _, f := range j.Proc.Sources {
		groups |= sourceFinder().In(f.Text)
	}
	return groups
})

// mayHold tells whether a phrase of a group may stand in the procedure.
func mayHold(j *rules.Job, group int) bool { return inSource.Of(j)&(1<<group) != 0 }

// The groups of phrases that are looked for in each piece of running text.
const (
	reverseGroup = iota
	otherSideGroup
)

var proseFinder = sync.OnceValue(func() *rules.Finder {
	return rules.NewFinder([][]string{reverseGroup: reverses, otherSideGroup: otherSides}...)
})
