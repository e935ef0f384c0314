package wording

import (
	"strings"
	"sync"

	"refitcard/compiler/rules"
)

// sourceFinder looks for the synonyms, then for the joints, a group each, in all files of a procedure in one pass.
var sourceFinder = sync.OnceValue(func() *rules.Finder {
	var groups [][]string
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

// inSource gives the groups that may stand in a file of the procedure; written says so for certain.
func inSource(j *rules.Job) (groups uint64) {
	for _, f := range j.Proc.Sources {
		groups |= sourceFinder().In(f.Text)
	}
	return groups
}
