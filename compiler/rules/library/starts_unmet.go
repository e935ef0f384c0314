package library

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/library"
	"refitcard/compiler/rules"
)

var startsUnmet = rules.Rule{
	Name:     "library/starts-unmet",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return unmet(j, j.Proc.Starts, j.Proc.After, func(e library.Entry) []string { return e.Leaves },
			"the job starts with %q, and no procedure under \"after\" leaves it so", "name the procedure that leaves it so under \"after\"")
	},
}
