package tool

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var notUsed = rules.Rule{
	Name:     "tool/not-used",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, t := range j.Proc.Tools {
			if j.UsesTool(t) || misspelt(j, t) || missed(j, t) || unturned(j, t) || t.At.File != j.Proc.File {
				continue
			}
			do := "name it in the step that needs it, or take it out"
			if plain(j, t) {
				do = "put braces around it in the step that names it: {tool " + t.Whole + "}"
			}
			all = append(all, diag.Finding{
				At: t.At, Thing: t.Whole,
				Message: rules.Quote(t.Whole) + " is in the list of tools and no step uses it",
				Do:      do,
			})
		}
		return all
	},
}
