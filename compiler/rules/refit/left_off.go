package refit

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var leftOff = rules.Rule{
	Name:     "refit/left-off",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/left-off", func(f source.Fault, x *diag.Finding) {
			left, qty := rules.CountAt(f, 0), rules.CountAt(f, 1)
			x.Message = never(left, qty, f.Words[0], "goes back", "go back")
			x.Do = "put " + rules.Is(left, "it", "them") + " back in a step, or list " + rules.Is(left, "it", "them") + " under \"leaves\""
			if left < qty && len(f.Related) > 0 {
				x.Do = fmt.Sprintf("put all %d back, or list the other %s under \"leaves\"", qty, rules.Is(left, "one", fmt.Sprint(left)))
			}
		})
	},
}
