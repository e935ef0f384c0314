package library

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/library"
	"refitcard/compiler/rules"
)

var leavesUnmet = rules.Rule{
	Name:     "library/leaves-unmet",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return unmet(j, j.Proc.Leaves, j.Proc.Then, func(e library.Entry) []string { return e.Starts },
			"%q is left so on purpose, and no procedure under \"then\" starts from it", "name the procedure that goes on from here under \"then\"")
	},
}
