package library

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var afterUnknown = rules.Rule{
	Name:     "library/after-unknown",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		if j.Register == nil {
			return nil
		}
		var all []diag.Finding
		for _, list := range [][]procedure.Text{j.Proc.After, j.Proc.Then} {
			for _, n := range list {
				if len(j.Register.Numbered(n.Value)) > 0 {
					continue
				}
				near := verb.Near(n.Value, j.Register.Numbers())
				all = append(all, diag.Finding{
					At:      n.At,
					Message: "no procedure of the library has the number " + rules.Quote(n.Value),
					Do:      rules.Write(near, "take it out, or add the procedure"),
					Fixes:   rules.Offer(n.At, n.Value, near),
				})
			}
		}
		return all
	},
}
