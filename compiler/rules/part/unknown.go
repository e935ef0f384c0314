package part

import (
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknown = rules.Rule{
	Name:     "part/unknown",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		all := j.Word("part/unknown", func(f source.Fault, x *diag.Finding) {
			phrase, near, kind, reason := rules.WordAt(f, 0), rules.WordAt(f, 1), rules.WordAt(f, 2), rules.WordAt(f, 3)
			list := "the parts list"
			if kind == "supply" {
				list = "the supplies"
			}
			x.Message = rules.Quote(phrase) + " is not in " + list
			x.Do = rules.Write(near, "add a row for it")
			switch {
			case reason == "verb":
				x.Message = rules.Quote(phrase) + " is a second act in the same braces"
				x.Do = "give it braces of its own: one verb in each"
				return
			case reason == "variant":
				x.Message = rules.Quote(phrase) + " is not on the machine in this variant"
				x.Do = "put {for …} before the step, or name the variant in the row of the part"
				return
			case phrase == "":
				x.Message = "these braces name nothing that the act is done to"
				x.Do = "name a part of the list"
			case kind == "supply" && near == "":
				x.Do = "add it to the supplies"
			}
			if row := slip(j, phrase, near); row != nil {
				x.Do = "correct the name in the row of " + rules.Quote(row.Name.Value) + ", or add a row"
				x.Related = append(slices.Clone(x.Related), source.Related{At: row.Name.At, Words: "the row"})
				return
			}
			if near != "" && len(phrase) > 0 {
				x.Fixes = j.SpellName(f.At, phrase, near, j.ThingNames())
			}
		})
		if j.ConditionLost() { // a {for …} that could not be read may have kept the step from this variant
			all = slices.DeleteFunc(all, func(f diag.Finding) bool { return strings.HasSuffix(f.Message, "in this variant") })
		}
		return rules.Once(all, func(f diag.Finding) string {
			return strings.TrimSuffix(strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(f.At.Text(), "-", " "))), " "), "s")
		})
	},
}

// slip finds the row whose name is slipped in rather than the tags: nothing names it, and several tags or relations agree on
// the name that is nearly its own.
func slip(j *rules.Job, phrase, near string) *procedure.Part {
	name := procedure.Fold(phrase)
	used := touched.Of(j)
	for _, p := range j.Proc.Parts {
		if near == "" || procedure.Fold(p.Name.Value) != procedure.Fold(near) || used.Has(p) {
			continue
		}
		one := strings.TrimSuffix(name, "s")
		if asked(j, name)+asked(j, one)+pointed(j, name)+pointed(j, one) > 1 {
			return p
		}
	}
	return nil
}
