package part

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var badRow = rules.Rule{
	Name:     "part/bad-row",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/bad-row", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("%q can't stand in the column %q", f.Words[1], f.Words[0])
			if f.Words[1] == "" {
				x.Message = "the column " + rules.Quote(f.Words[0]) + " is empty or missing"
			}
			x.Do = "write " + rules.WordAt(f, 2)
		})
	},
}
