package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var badValue = rules.Rule{
	Name:     "file/bad-value",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/bad-value", func(f source.Fault, x *diag.Finding) {
			key := rules.WordAt(f, 0)
			x.Message = rules.Quote(rules.WordAt(f, 1)) + " can't be read"
			if key != "" {
				x.Message = rules.Quote(rules.WordAt(f, 1)) + " can't be read as the value of " + rules.Quote(key)
			}
			x.Do = "write " + rules.WordAt(f, 2)
			if f.At.Known() && f.At.File != j.Proc.File {
				x.Why = "The settings hold for every procedure of the library: a limit or a list that can't be read is not there for any of them."
			}
		})
	},
}
