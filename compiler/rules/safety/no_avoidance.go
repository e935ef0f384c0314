package safety

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var noAvoidance = rules.Rule{
	Name:     "safety/no-avoidance",
	Severity: diag.Warning,
	Pinned:   true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, m := range j.Messages() {
			if len(m.Runs) == 0 || avoids(m.Message) {
				continue
			}
			all = append(all, diag.Finding{
				At: signalAt(m.Message), Step: m.Step,
				Message: "this " + m.Signal + " does not say what to do about the hazard",
				Do:      `end it with a sentence that says what to do, such as "Keep clear of the drum."`,
			})
		}
		return all
	},
}
