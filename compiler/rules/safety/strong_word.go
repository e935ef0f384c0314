package safety

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var strongWord = rules.Rule{
	Name:     "safety/strong-word",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		j.EachMessage(func(m *procedure.Message) {
			text := procedure.RunText(m.Runs)
			if m.Signal != "WARNING" && m.Signal != "DANGER" || !hasAny(text, harms) || hasAny(text, persons) {
				return
			}
			all = append(all, diag.Finding{
				At: signalAt(m), Step: m.Step,
				Message: fmt.Sprintf("this %s speaks of damage only, and of nobody who is hurt", m.Signal),
				Do:      "write NOTICE; or say who can be hurt, and how",
			})
		})
		return all
	},
}
