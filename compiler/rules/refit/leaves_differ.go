package refit

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var leavesDiffer = rules.Rule{
	Name:     "refit/leaves-differ",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/leaves-differ", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("\"leaves\" says %q, and at the end it is %s", f.At.Text(), standing(rules.Or(f.Words[2], "as it was")))
			x.Do = "take the line out of \"leaves\", or correct the steps"
			if len(f.Related) > 0 {
				x.Do = "use one name in both places"
			}
		})
	},
}
