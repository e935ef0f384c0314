package include

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var cycle = rules.Rule{
	Name:     "include/cycle",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("include/cycle", func(f source.Fault, x *diag.Finding) {
			x.Message = "the files include one another in a circle: " + rules.List(f.Words, "and again")
			x.Do = "take one of the includes out"
		})
	},
}
