package order

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var alignUnmarked = rules.Rule{
	Name:     "order/align-unmarked",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/align-unmarked", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is aligned by a mark that no step made"
			x.Do = rules.Write(rules.WordAt(f, 1), "add {mark the "+f.Words[0]+"} before it comes apart, or waive this if the maker has marked it")
		})
	},
}
