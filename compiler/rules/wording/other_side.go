package wording

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var otherSide = rules.Rule{
	Name:     "wording/other-side",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, p := range pieces.Of(j) {
			if !p.has(otherSideGroup) {
				continue
			}
			if i, n := p.find(otherSides); n > 0 {
				all = append(all, diag.Finding{
					At: p.at(i, n), Step: p.step,
					Message: rules.Quote(p.text[i:i+n]) + " repeats steps that have no tick and no count",
					Do:      "write \"each: side, 2\" in the front matter, or write a second set of steps",
				})
			}
		}
		return all
	},
}
