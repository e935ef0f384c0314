package refit

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var branchesDiffer = rules.Rule{
	Name:     "refit/branches-differ",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		if conditionLost(j) {
			return nil // a step that belongs to a condition may stand outside it by that slip
		}
		return j.Word("refit/branches-differ", func(f source.Fault, x *diag.Finding) {
			if rules.WordAt(f, 3) == "repeat" {
				x.Message = "this step can't be done a second time: " + rules.Quote(f.Words[0]) + " is not as it was the first time"
				x.Do = "undo within the step what it does, or put the act outside the repeat"
				return
			}
			x.Message = fmt.Sprintf("%q ends two ways: %s when this is done, %s when it is left out",
				f.Words[0], standing(rules.Or(f.Words[1], "unchanged")), standing(rules.Or(f.Words[2], "unchanged")))
			x.Do = "end both ways in one state: undo it within the condition, or put steps with the same {if …} where it is undone"
		})
	},
}

// conditionLost tells whether a tag that makes a step conditional could not be read, or stands where it does nothing.
func conditionLost(j *rules.Job) bool {
	governs := func(word string) bool { return slices.Contains([]string{"if", "otherwise", "for", "repeat"}, word) }
	return slices.ContainsFunc(j.Faults, func(f source.Fault) bool {
		switch f.Name {
		case "tag/unknown-verb":
			return governs(rules.WordAt(f, 1))
		case "tag/misplaced":
			return governs(rules.WordAt(f, 0))
		case "tag/unclosed":
			word, _, _ := strings.Cut(strings.ToLower(rules.WordAt(f, 0)), " ")
			return governs(word)
		}
		return false
	})
}
