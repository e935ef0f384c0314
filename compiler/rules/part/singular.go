package part

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var singular = rules.Rule{
	Name:     "part/singular",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return rules.Once(j.Word("part/singular", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("this says one %s, and the list has %d", f.Words[0], rules.CountAt(f, 0))
			x.Do = fmt.Sprintf("write how many: %d %s, or 1 %s", rules.CountAt(f, 0), f.Words[1], f.Words[0])
			x.Fixes = rules.Offer(f.At, f.At.Text(), counted(f, rules.CountAt(f, 0), f.Words[1]), counted(f, 1, f.Words[0]))
		}), func(f diag.Finding) string { return f.Thing })
	},
}
