package wording

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var untaggedQuantity = rules.Rule{
	Name:     "wording/untagged-quantity",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		lost := unreadSteps(j)
		eachProse(j, func(p piece) {
			if lost[p.step] {
				return // what looks like plain text may be the words of a tag
			}
			if i, n, what := p.quantity(); n > 0 {
				all = append(all, diag.Finding{
					At: p.at(i, n), Step: p.step,
					Message: fmt.Sprintf("%q is %s in plain text", p.text[i:i+n], what),
					Do:      "put it into the tag of its act: {torque … to 22 N·m} or {wait 10 min}",
				})
			}
		})
		return all
	},
}
