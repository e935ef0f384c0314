package energy

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var isolatedLate = rules.Rule{
	Name:     "energy/isolated-late",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("energy/isolated-late", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("%q is isolated only here, after work on the machine has begun", f.Words[0])
			x.Do = "move this act, and its check, before the first work on the machine"
		})
	},
}
