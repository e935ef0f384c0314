package label

import (
	"slices"

	"refitcard/compiler/rules"
)

// labels lists the labels of all steps, in order of the alphabet.
func labels(j *rules.Job) []string {
	var all []string
	for name := range j.Proc.Labels {
		all = append(all, name)
	}
	slices.Sort(all)
	return all
}
