package wording

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var otherSide = rules.Rule{
	Name:     "wording/other-side",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return sought(j, otherSides, otherSidePhrases, func(words string) (message, do string) {
			return rules.Quote(words) + " repeats steps that have no tick and no count", "write \"each: side, 2\" in the front matter, or write a second set of steps"
		})
	},
}

var otherSidePhrases = rules.NewPhrases(otherSides...)
