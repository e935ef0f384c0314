package wording

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var reverseOfRemoval = rules.Rule{
	Name:     "wording/reverse-of-removal",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return sought(j, reverses, reversePhrases, func(words string) (message, do string) {
			return rules.Quote(words) + " leaves out every step of the refit", "write the steps of the refit, each with its count, new parts and torque"
		})
	},
}

var reversePhrases = rules.NewPhrases(reverses...)
