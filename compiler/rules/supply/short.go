package supply

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var shortRule = rules.Rule{
	Name:     "supply/short",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, s := range j.Proc.Supplies {
			if need, has, at, ok := overdrawn(j, s); ok && !copied(j, at) {
				all = append(all, diag.Finding{
					At: s.QtyAt, Thing: s.Name.Value, Related: at,
					Message: fmt.Sprintf("the steps use %s of %q, and the list has %s", need, s.Name.Value, has),
					Do:      "write at least " + need + " in the supplies, or correct the step",
				})
			}
		}
		return all
	},
}

// copied tells whether a step that uses the supply can't be done as it stands: it may be there twice, or not be meant.
func copied(j *rules.Job, at []source.Related) bool {
	for _, name := range []string{"refit/already-on", "refit/already-off", "refit/never-opened", "order/behind"} {
		for _, f := range j.Named(name) {
			if slices.ContainsFunc(at, func(r source.Related) bool { return r.Step > 0 && r.Step == f.Step }) {
				return true
			}
		}
	}
	return false
}
