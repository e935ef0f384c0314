package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var leftLoose = rules.Rule{
	Name:     "refit/left-loose",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/left-loose", func(f source.Fault, x *diag.Finding) {
			n, qty, grip := rules.CountAt(f, 0), rules.CountAt(f, 1), rules.WordAt(f, 2)
			state := map[string]string{"slack": " slackened", "hand-tight": " only hand-tight"}[grip]
			x.Message = rules.Some(n, qty, f.Words[0]) + rules.Is(n, " is left", " are left") + state + " and never tightened"
			x.Do = "add the act that tightens " + rules.Is(n, "it", "them") + ", or waive this with the reason"
		})
	},
}
