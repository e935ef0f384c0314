package wording

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var reverseOfRemoval = rules.Rule{
	Name:     "wording/reverse-of-removal",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, p := range pieces.Of(j) {
			if !p.has(reverseGroup) {
				continue
			}
			if i, n := p.find(reverses); n > 0 {
				all = append(all, diag.Finding{
					At: p.at(i, n), Step: p.step,
					Message: rules.Quote(p.text[i:i+n]) + " leaves out every step of the refit",
					Do:      "write the steps of the refit, each with its count, new parts and torque",
				})
			}
		}
		return all
	},
}
