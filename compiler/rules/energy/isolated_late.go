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
			x.Message = fmt.Sprintf("%q is isolated here, and work on the machine came before", f.Words[0])
			x.Do = "move this act before the first work"
		})
	},
}
