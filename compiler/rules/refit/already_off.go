package refit

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var alreadyOff = rules.Rule{
	Name:     "refit/already-off",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return rules.Once(j.Word("refit/already-off", func(f source.Fault, x *diag.Finding) {
			x.Message = subject(f) + " off already: there is nothing to " + f.Words[2]
			x.Do = "take the act out, or put the part back on before it"
		}), func(f diag.Finding) string {
			if len(f.Variants) > 0 { // one act that is missing shows in each variant at its own step
				return f.Thing
			}
			return fmt.Sprint(f.At.File.Path, f.At.Start)
		})
	},
}
