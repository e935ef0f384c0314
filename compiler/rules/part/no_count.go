package part

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var noCount = rules.Rule{
	Name:     "part/no-count",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/no-count", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("how many %s? the list has %d", f.Words[0], rules.CountAt(f, 0))
			x.Do = fmt.Sprintf("write %d %s", rules.CountAt(f, 0), f.Words[0])
			x.Fixes = []diag.Fix{{Title: x.Do, Edits: []diag.Edit{{At: source.Span{File: f.At.File, Start: f.At.Start, End: f.At.Start}, Text: fmt.Sprintf("%d ", rules.CountAt(f, 0))}}}}
		})
	},
}
