package safety

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// many is how often a message may stand at steps before it should stand once above them: common practice, no source.
const many = 3

var repeated = rules.Rule{
	Name:     "safety/repeated",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		messages := j.Messages()
		if len(messages) < many {
			return nil
		}
		var order []string
		same := map[string][]*procedure.Message{}
		for _, m := range messages {
			key := m.Signal + " " + procedure.Fold(m.Text)
			if same[key] == nil {
				order = append(order, key)
			}
			same[key] = append(same[key], m.Message)
		}
		var all []diag.Finding
		for _, key := range order {
			list := same[key]
			if len(list) < many || len(list[0].Runs) == 0 {
				continue
			}
			f := diag.Finding{
				At: signalAt(list[0]), Step: list[0].Step,
				Message: fmt.Sprintf("this %s stands at %d places in the same words, and is soon overlooked", list[0].Signal, len(list)),
				Do:      "put it once before the first step of the stage, or into the introduction",
			}
			for _, m := range list[1:] {
				f.Related = append(f.Related, source.Related{At: signalAt(m), Words: "again here", Step: m.Step})
			}
			all = append(all, f)
		}
		return all
	},
}
