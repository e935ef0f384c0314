package safety

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var noAvoidance = rules.Rule{
	Name:     "safety/no-avoidance",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		j.EachMessage(func(m *procedure.Message) {
			if len(m.Runs) == 0 || avoids(m) {
				return
			}
			all = append(all, diag.Finding{
				At: signalAt(m), Step: m.Step,
				Message: "this " + m.Signal + " does not say what to do about the hazard",
				Do:      `end it with a sentence that says what to do, such as "Keep clear of the drum."`,
			})
		})
		return all
	},
}
