package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var oldPartBack = rules.Rule{
	Name:     "refit/old-part-back",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/old-part-back", func(f source.Fault, x *diag.Finding) {
			name := f.Words[0]
			if f.Words[1] == "never changed" {
				x.Message = "the old " + name + " stays on, and the parts list says \"replace\""
				x.Do = "add the acts that remove the old one and install a new one, or write reuse in its Use column"
				return
			}
			x.Message = "the old " + name + " goes back on, and the parts list says \"replace\""
			x.Do = "write \"new\" before " + rules.Quote(name)
			x.Fixes = newBefore(j, f)
		})
	},
}
