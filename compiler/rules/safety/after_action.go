package safety

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var afterAction = rules.Rule{
	Name:     "safety/after-action",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, m := range j.Messages() {
			if !m.Late {
				continue
			}
			do := "put it at the beginning of the step, before the act"
			if m.Step == 0 {
				do = "put it before the step that it warns of"
			}
			all = append(all, diag.Finding{
				At: signalAt(m.Message), Step: m.Step,
				Message: "this " + m.Signal + " comes after the act that it warns of",
				Do:      do,
			})
		}
		return all
	},
}
