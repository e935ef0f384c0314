package wording

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var untaggedAct = rules.Rule{
	Name:     "wording/untagged-act",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachClause(j, func(c clause, word string) {
			object, ok := c.hidden(j, word)
			if !ok {
				return
			}
			all = append(all, diag.Finding{
				At: c.at(word), Step: c.step, Thing: object,
				Message: fmt.Sprintf("%q has no braces, so nobody keeps count of the %s", word, object),
				Do:      "put braces around the words of the act: {" + c.offer(word, object) + "}",
				Fixes:   c.braces(word, object),
			})
		})
		return all
	},
}
