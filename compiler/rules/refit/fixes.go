package refit

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// newBefore offers to put "new" before the name, or in the place of "old". It is for a person to take: the Use column may be what is
// wrong.
func newBefore(j *rules.Job, f source.Fault) []diag.Fix {
	for _, a := range j.Acts() {
		for _, o := range a.Objects {
			if a.At.Holds(f.At) && o.Part != nil && o.Part.Name.Value == f.Words[0] && o.NameAt.Known() {
				return []diag.Fix{{Title: "write new before " + f.Words[0], Edits: []diag.Edit{newEdit(o)}}}
			}
		}
	}
	return nil
}

func newEdit(o procedure.Object) diag.Edit {
	at := o.NameAt
	at.End = at.Start
	marks := string(at.File.Text[o.At.Start:at.Start])
	switch low := strings.ToLower(marks); {
	case strings.HasSuffix(low, "old "):
		at.Start -= len("old ")
	case strings.HasSuffix(low, "an "):
		at.Start -= len("n ")
		return diag.Edit{At: at, Text: " new "}
	}
	return diag.Edit{At: at, Text: "new "}
}
