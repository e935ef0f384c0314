package order

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var awaitUnstarted = rules.Rule{
	Name:     "order/await-unstarted",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/await-unstarted", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is awaited and was never started"
			x.Do = rules.Write(rules.WordAt(f, 1), "add {start "+f.Words[0]+", 20 min} before it")
		})
	},
}
