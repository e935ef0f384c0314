package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var empty = rules.Rule{
	Name:     "tag/empty",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/empty", func(f source.Fault, x *diag.Finding) {
			x.Message = "these braces say nothing to do"
			x.Do = "write the words of the act between the braces, or take the braces out"
		})
	},
}
