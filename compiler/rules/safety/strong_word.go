package safety

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var strongWord = rules.Rule{
	Name:     "safety/strong-word",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, m := range j.Messages() {
			if m.Signal != "WARNING" && m.Signal != "DANGER" || !harmPhrases.MayBeIn(m.Passage) || !hasAny(m.Text, harms) || hasAny(m.Text, persons) {
				continue
			}
			all = append(all, diag.Finding{
				At: signalAt(m.Message), Step: m.Step,
				Message: fmt.Sprintf("this %s speaks of damage only, and of nobody who is hurt", m.Signal),
				Do:      "write NOTICE; or say who can be hurt, and how",
			})
		}
		return all
	},
}
