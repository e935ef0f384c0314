package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknownKey = rules.Rule{
	Name:     "file/unknown-key",
	Severity: diag.Warning,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/unknown-key", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is not known in the front matter"
			x.Do = rules.Write(rules.WordAt(f, 1), "take the line out: it is printed nowhere")
			switch near := rules.WordAt(f, 1); {
			case near == "title" && !j.Proc.Title.Set(), near == "number" && !j.Proc.Number.Set(), near == "revision" && !j.Proc.Revision.Set():
				x.Severity = diag.Error // a key that has to be there is not: no card is made without it
				x.Do = "write " + rules.Quote(near) + ": every procedure has this line"
			}
			if near := rules.WordAt(f, 1); near != "" {
				x.Fixes = spellKey(j, f, near)
			}
		})
	},
}
