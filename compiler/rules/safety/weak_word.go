package safety

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// deaths are stems of the words that mortal finds.
var deaths = rules.NewPhrases("kill", "fatal", "lethal", "deadly", "death", "die", "electrocute")

var weakWord = rules.Rule{
	Name:     "safety/weak-word",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, m := range j.Messages() {
			if m.Signal != "CAUTION" && m.Signal != "NOTICE" {
				continue
			}
			if !deaths.MayBeIn(m.Passage) {
				continue
			}
			from, to := mortal(m.Text)
			if to == 0 {
				continue
			}
			all = append(all, diag.Finding{
				At: signalAt(m.Message), Step: m.Step,
				Message: fmt.Sprintf("the message says %q, and %s is too weak a word for that", m.Text[from:to], m.Signal),
				Do:      "write WARNING, or DANGER where it will kill for certain",
				Related: []source.Related{{At: m.Place(from, to), Words: "here"}},
			})
		}
		return all
	},
}
