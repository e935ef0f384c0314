package waive

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var notWaivable = rules.Rule{
	Name:     "waive/not-waivable",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return nil // found while waivers are judged: see Judge
	},
}
