package tool

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var notListed = rules.Rule{
	Name:     "tool/not-listed",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return rules.Once(j.Word("tool/not-listed", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " is not in the list of tools"
			x.Do = rules.Write(rules.WordAt(f, 1), "add it to the tools")
			if near := rules.WordAt(f, 1); near != "" {
				name, _, _ := strings.Cut(f.Words[0], ",") // details stay
				x.Fixes = j.SpellName(f.At.File.At(f.At.Start, f.At.Start+len(name)), name, near, j.ToolNames())
			}
		}), func(f diag.Finding) string { // "hoist" and "hoist, 150 kg" are one tool
			name, _, _ := strings.Cut(strings.ToLower(f.At.Text()), ",")
			return name
		})
	},
}
