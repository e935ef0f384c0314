package supply

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var notUsed = rules.Rule{
	Name:     "supply/not-used",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		used := map[*procedure.Supply]bool{}
		j.EachAct(func(a *procedure.Act) {
			for _, list := range [][]procedure.Object{a.Objects, a.Mentions} {
				for _, o := range list {
					used[o.Supply] = true
				}
			}
		})
		for _, s := range j.Proc.Supplies {
			if used[s] || j.Muted(s.Name.Value) || s.At.File != j.Proc.File {
				continue
			}
			all = append(all, diag.Finding{
				At: s.Name.At, Thing: s.Name.Value,
				Message: rules.Quote(s.Name.Value) + " is in the supplies and no step uses it",
				Do:      "name it in the step that needs it: {supply " + s.Name.Value + "}; or take it out",
			})
		}
		return all
	},
}
