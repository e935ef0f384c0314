package stack

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var outOfTarget = rules.Rule{
	Name:     "stack/out-of-target",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return judged(j, func(p pile) (string, string, bool) {
			low, high := p.target()
			sum := p.sum()
			if !outside(sum.nominal, low, high) {
				return "", "", false
			}
			return fmt.Sprintf("%q adds up to %s, and its target is %s: it can't be met even with every part exactly to size",
					p.stack.Name.Value, p.text(sum.nominal), p.stack.Target.Running()),
				"correct a count, a thickness in the Spec, or the target", true
		})
	},
}
