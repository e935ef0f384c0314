package safety

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var afterAction = rules.Rule{
	Name:     "safety/after-action",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		j.EachMessage(func(m *procedure.Message) {
			if !m.Late {
				return
			}
			do := "put it at the beginning of the step, before the act"
			if m.Step == 0 {
				do = "put it before the step that it warns of"
			}
			all = append(all, diag.Finding{
				At: signalAt(m), Step: m.Step,
				Message: "this " + m.Signal + " comes after the act that it warns of",
				Do:      do,
			})
		})
		return all
	},
}
