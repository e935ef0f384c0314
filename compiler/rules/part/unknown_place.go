package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknownPlace = rules.Rule{
	Name:     "part/unknown-place",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/unknown-place", func(f source.Fault, x *diag.Finding) {
			switch rules.WordAt(f, 2) {
			case "circle":
				x.Message = rules.Quote(f.Words[0]) + " closes a ring: none of these parts could ever come off first"
				x.Do = "look which of them really comes off first, and mend the Place of the other"
			case "relation":
				x.Message = rules.Quote(f.Words[0]) + " does not begin with a word for a place"
				x.Do = rules.Write(rules.WordAt(f, 1), "begin with holds, clamps, behind, under, seals, fills, locks or faces")
				x.Fixes = rules.SpellAs(f.At, f.Words[0], rules.WordAt(f, 1), nil)
			default:
				x.Message = rules.Quote(f.Words[0]) + " points to nothing that is declared"
				x.Do = rules.Write(rules.WordAt(f, 1), "add a row for it")
				x.Fixes = spellPlace(j, f)
			}
		})
	},
}
