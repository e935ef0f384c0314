package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var misplaced = rules.Rule{
	Name:     "tag/misplaced",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/misplaced", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " can't stand in " + f.Words[1]
			x.Do = "move it to " + f.Words[2]
		})
	},
}
