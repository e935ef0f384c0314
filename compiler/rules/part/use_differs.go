package part

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var useDiffers = rules.Rule{
	Name:     "part/use-differs",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("part/use-differs", func(f source.Fault, x *diag.Finding) {
			name := rules.Quote(f.Words[0])
			switch f.Words[1] {
			case "new of reuse":
				x.Message = "a new " + f.Words[0] + " goes on, and the parts list says that the old one is used again"
				x.Do = "write replace in its Use column, so that a new one is drawn; or take \"new\" out here"
			case "install of omit":
				x.Message = name + " goes back on, and the parts list says that it stays off"
				x.Do = "write reuse in its Use column, or take this act out"
			case "remove of add":
				x.Message = name + " comes off before it was ever fitted: the parts list says that it is added"
				x.Do = "write reuse or replace in its Use column, or fit it first"
			case "omit left on":
				x.Message = name + " is still on at the end, and the parts list says that it stays off"
				x.Do = "add the act that removes it, or write reuse in its Use column"
			case "add never fitted":
				x.Message = name + " is in the parts list to be added, and no step fits it"
				x.Do = "add the act that installs it, or take the row out"
			default:
				x.Message = name + " is replaced here, and its Use column says " + rules.Quote(f.Words[2])
				x.Do = "write replace in its Use column, so that a new one is drawn"
			}
		})
	},
}
