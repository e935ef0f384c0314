package energy

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var notRelieved = rules.Rule{
	Name:     "energy/not-relieved",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return relief(j)
	},
}
