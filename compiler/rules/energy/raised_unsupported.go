package energy

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var raisedUnsupported = rules.Rule{
	Name:     "energy/raised-unsupported",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("energy/raised-unsupported", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("work is done while %q is raised, and nothing supports it", f.Words[0])
			x.Do = "add {support the " + f.Words[0] + "} on stands before this act"
		})
	},
}
