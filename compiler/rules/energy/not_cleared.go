package energy

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notCleared = rules.Rule{
	Name:     "energy/not-cleared",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("energy/not-cleared", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("%q is unlocked with no check since the last work", f.Words[0])
			x.Do = "add {check nobody is at the machine} or {tell the control room} before it"
		})
	},
}
