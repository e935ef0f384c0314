package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var unused = rules.Rule{
	Name:     "part/unused",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		used := touched(j)
		for _, p := range j.Proc.Parts {
			if used[p] || p.Included || muted(j, p) {
				continue
			}
			all = append(all, diag.Finding{
				At: p.Name.At, Thing: p.Name.Value,
				Message: rules.Quote(p.Name.Value) + " is in the parts list and no step touches it",
				Do:      "add the step that is missing, or take the row out",
			})
		}
		return all
	},
}
