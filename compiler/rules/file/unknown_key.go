package file

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknownKey = rules.Rule{
	Name:     "file/unknown-key",
	Severity: diag.Warning,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/unknown-key", func(f source.Fault, x *diag.Finding) {
			if f.At.Known() && f.At.File != j.Proc.File { // of the settings, or of a list of theirs
				ofSettings(f, x)
				return
			}
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

// ofSettings words a key that the settings do not have, and a column that a list of theirs does not have.
func ofSettings(f source.Fault, x *diag.Finding) {
	x.Message = rules.Quote(f.Words[0]) + " is not known in the settings"
	x.Do = rules.Write(rules.WordAt(f, 1), "take the line out")
	x.Why = "What is set there has no effect, and nobody is told: a check stays as strict as it was, a list is not read."
	if strings.HasSuffix(strings.ToLower(f.At.File.Path), ".csv") {
		x.Message = rules.Quote(f.Words[0]) + " is no column that is read from this list"
		x.Do = rules.Write(rules.WordAt(f, 1), "take the column out")
	}
}
