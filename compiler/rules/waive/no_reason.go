package waive

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var noReason = rules.Rule{
	Name:     "waive/no-reason",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("waive/no-reason", func(f source.Fault, x *diag.Finding) {
			x.Message = "this waiver gives no reason"
			x.Do = "write why after a colon: {waive " + rules.Or(rules.WordAt(f, 0), "refit/left-loose") + ": the cable is set on the trial run}"
		})
	},
}
