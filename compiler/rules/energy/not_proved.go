package energy

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notProved = rules.Rule{
	Name:     "energy/not-proved",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("energy/not-proved", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("nothing proves that locking off %q works", f.Words[0])
			x.Do = "add a check after it: press start, and {check nothing moves}"
		})
	},
}
