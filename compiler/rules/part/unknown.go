package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var unknown = rules.Rule{
	Name:     "part/unknown",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/unknown", func(f source.Fault, x *diag.Finding) {
			phrase, near, kind, reason := rules.WordAt(f, 0), rules.WordAt(f, 1), rules.WordAt(f, 2), rules.WordAt(f, 3)
			list := "the parts list"
			if kind == "supply" {
				list = "the supplies"
			}
			x.Message = rules.Quote(phrase) + " is not in " + list
			x.Do = rules.Write(near, "add a row to it")
			switch {
			case reason == "verb":
				x.Message = rules.Quote(phrase) + " is a second act in one tag"
				x.Do = "give it braces of its own: one verb a tag"
				return
			case reason == "variant":
				x.Message = rules.Quote(phrase) + " is not on the machine in this variant"
				x.Do = "put {for …} before the step, or name the variant in the row of the part"
				return
			case phrase == "":
				x.Message = "this tag names nothing that it acts on"
				x.Do = "name a part of the list"
			case kind == "supply" && near == "":
				x.Do = "add it to the supplies"
			}
			if near != "" && len(phrase) > 0 {
				x.Fixes = j.SpellName(f.At, phrase, near, append(j.PartNames(), j.SupplyNames()...))
			}
		})
	},
}
