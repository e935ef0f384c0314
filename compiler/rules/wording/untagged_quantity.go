package wording

import (
	"fmt"
	"strings"

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
				do := "put it into the tag of its act: {torque … to 22 N·m} or {wait 10 min}"
				for _, t := range j.Proc.Tools {
					if from := strings.Index(t.Whole, p.text[i:i+n]); from > 0 && strings.HasSuffix(p.text[:i], t.Whole[:from]) {
						do = "put braces about the tool: {tool " + t.Whole + "}"
					}
				}
				all = append(all, diag.Finding{
					At: p.at(i, n), Step: p.step,
					Message: fmt.Sprintf("%q is %s in plain text", p.text[i:i+n], what),
					Do:      do,
				})
			}
		})
		return all
	},
}
