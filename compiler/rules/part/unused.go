package part

import (
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unused = rules.Rule{
	Name:     "part/unused",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		used := touched.Of(j)
		for _, p := range j.Proc.Parts {
			if used.Has(p) || p.Included || muted(j, p) || heldBy(j, p) {
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

// heldBy tells whether a finding already says that the part still holds, or stands in front of, what is to come off.
func heldBy(j *rules.Job, p *procedure.Part) bool {
	return slices.ContainsFunc(append(j.Named("order/held"), j.Named("order/behind")...), func(f source.Fault) bool {
		return rules.WordAt(f, 1) == p.Name.Value
	})
}
