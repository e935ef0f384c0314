package supply

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var shortRule = rules.Rule{
	Name:     "supply/short",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, s := range j.Proc.Supplies {
			if need, has, at, ok := overdrawn(j, s); ok {
				all = append(all, diag.Finding{
					At: s.QtyAt, Thing: s.Name.Value, Related: at,
					Message: fmt.Sprintf("the steps use %s of %q, and the list has %s", need, s.Name.Value, has),
					Do:      "write at least " + need + " in the supplies, or mend the step",
				})
			}
		}
		return all
	},
}
