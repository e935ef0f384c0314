package tag

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var hidden = rules.Rule{
	Name:     "tag/hidden",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("tag/hidden", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " stands in " + place(f.Words[1]) + ", where it does nothing and prints as typed"
			x.Do = "write it as plain text of a step"
			if f.Words[1] == "an indented block" {
				x.Do = "take out the spaces or tabs at the beginning of the line"
			}
		})
	},
}

// place says where a tag is never read, in words for somebody who sees the marks and not their names.
func place(name string) string {
	switch name {
	case "a code span":
		return "words between backticks"
	case "a code block":
		return "a block between rows of backticks"
	case "an indented block":
		return "a line that begins with four spaces or a tab"
	}
	return name
}
