package tool

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var notUsed = rules.Rule{
	Name:     "tool/not-used",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		used := map[*procedure.Tool]bool{}
		j.EachAct(func(a *procedure.Act) {
			used[a.Tool] = true
			for _, list := range [][]procedure.Object{a.Objects, a.Mentions} {
				for _, o := range list {
					used[o.Tool] = true
				}
			}
		})
		without := noneFits.Check(j)
		for _, t := range j.Proc.Tools {
			if used[t] || misspelt(j, t) || missed(j, t) || unturned(j, without, t) || t.At.File != j.Proc.File {
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
