package energy

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var restoredEarly = rules.Rule{
	Name:     "energy/restored-early",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("energy/restored-early", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("%q is unlocked here, and work on the machine still follows", f.Words[0])
			x.Do = "move this act after the last work, or isolate again before it"
		})
	},
}
