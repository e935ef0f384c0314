package library

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var numberRepeated = rules.Rule{
	Name:     "library/number-repeated",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, e := range j.Register.Numbered(j.Proc.Number.Value) {
			if e.Path == j.Proc.File.Path || !j.Proc.Number.Set() {
				continue
			}
			all = append(all, diag.Finding{
				At: j.Proc.Number.At, Related: []source.Related{{At: e.NumberAt, Words: "and here"}},
				Message: fmt.Sprintf("%q has the number %s too", e.Path, j.Proc.Number.Value),
				Do:      "give one of the two another number",
			})
		}
		return all[:min(len(all), 1)]
	},
}
