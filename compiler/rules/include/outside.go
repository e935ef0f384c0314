package include

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var outside = rules.Rule{
	Name:     "include/outside",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("include/outside", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " leads out of the library" + how(rules.WordAt(f, 1))
			x.Do = "copy the file into the library, and write its new path"
		})
	},
}
