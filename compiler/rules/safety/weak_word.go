package safety

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var weakWord = rules.Rule{
	Name:     "safety/weak-word",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		j.EachMessage(func(m *procedure.Message) {
			if m.Signal != "CAUTION" && m.Signal != "NOTICE" {
				return
			}
			t := tell(m.Runs)
			if !t.has(deaths) {
				return
			}
			from, to := mortal(t.text)
			if to == 0 {
				return
			}
			all = append(all, diag.Finding{
				At: signalAt(m), Step: m.Step,
				Message: fmt.Sprintf("the message says %q, and %s is too weak a word for that", t.text[from:to], m.Signal),
				Do:      "write WARNING, or DANGER where it will kill for certain",
				Related: []source.Related{{At: t.Span(from, to), Words: "here"}},
			})
		})
		return all
	},
}
