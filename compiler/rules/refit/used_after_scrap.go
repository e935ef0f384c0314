package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var usedAfterScrap = rules.Rule{
	Name:     "refit/used-after-scrap",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/used-after-scrap", func(f source.Fault, x *diag.Finding) {
			x.Message = "the old " + f.Words[0] + " was discarded, and there is none left to fit"
			x.Do = "write replace in its Use column and \"new\" here, or take out the act that discards it"
		})
	},
}
