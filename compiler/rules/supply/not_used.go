package supply

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var notUsed = rules.Rule{
	Name:     "supply/not-used",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, s := range j.Proc.Supplies {
			if j.UsesSupply(s) || j.Muted(s.Name.Value) || s.At.File != j.Proc.File {
				continue
			}
			if missed(j) {
				continue // the step that would use it may be the one that was left out
			}
			all = append(all, diag.Finding{
				At: s.Name.At, Thing: s.Name.Value,
				Message: rules.Quote(s.Name.Value) + " is in the supplies and no step uses it",
				Do:      "name it in the step that needs it: {supply " + s.Name.Value + "}; or take it out",
			})
		}
		return all
	},
}

// missed tells whether another finding says that an act was left out: an act takes its supplies with it.
func missed(j *rules.Job) bool {
	for _, name := range []string{"refit/already-off", "refit/already-on", "refit/never-opened", "refit/left-off", "order/await-unstarted"} {
		if len(j.Named(name)) > 0 {
			return true
		}
	}
	return false
}
