package part

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknownPlace = rules.Rule{
	Name:     "part/unknown-place",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		all := j.Word("part/unknown-place", func(f source.Fault, x *diag.Finding) {
			switch rules.WordAt(f, 2) {
			case "circle":
				x.Message = rules.Quote(f.Words[0]) + " leads round in a circle: none of these parts could ever come off first"
				x.Do = "find out which of them really comes off first, and correct the Place of the other"
			case "relation":
				x.Message = rules.Quote(f.Words[0]) + " does not begin with a word that the Place column knows"
				x.Do = rules.Write(rules.WordAt(f, 1), "begin with holds, clamps, behind, under, seals, fills, locks or faces")
				x.Fixes = rules.SpellAs(f.At, f.Words[0], rules.WordAt(f, 1), nil)
			default:
				x.Message = rules.Quote(f.Words[0]) + " points to nothing that is listed"
				x.Do = rules.Write(rules.WordAt(f, 1), "add a row for it")
				x.Fixes = spellPlace(j, f)
			}
		})
		all = slices.DeleteFunc(all, func(f diag.Finding) bool { return missed(f) != "" && asked(j, missed(f)) > 0 })
		return rules.Once(all, func(f diag.Finding) string { return rules.Or(missed(f), fmt.Sprint(f.At.Start)) })
	},
}

// missed gives the name that a relation points to, empty where the slip is not in the name.
func missed(f diag.Finding) string {
	_, name, _ := strings.Cut(f.At.Text(), " ")
	if !strings.HasSuffix(f.Message, "points to nothing that is listed") {
		return ""
	}
	return procedure.Fold(name)
}

// asked counts the tags that name a part, or a fluid, which is not declared.
func asked(j *rules.Job, name string) int {
	n := 0
	for _, f := range append(j.Named("part/unknown"), j.Named("supply/not-listed")...) {
		if p := procedure.Fold(rules.WordAt(f, 0)); p == name || p == procedure.Fold(procedure.Plural(name)) {
			n++
		}
	}
	return n
}

// pointed counts the relations that point to a part which is not declared.
func pointed(j *rules.Job, name string) int {
	n := 0
	for _, f := range j.Named("part/unknown-place") {
		if _, p, _ := strings.Cut(rules.WordAt(f, 0), " "); rules.WordAt(f, 2) == "name" && procedure.Fold(p) == name {
			n++
		}
	}
	return n
}
