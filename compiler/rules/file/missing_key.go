package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var missingKey = rules.Rule{
	Name:     "file/missing-key",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/missing-key", func(f source.Fault, x *diag.Finding) {
			x.Message = "the front matter has no " + rules.List(rules.Quoted(f.Words), "and no")
			x.Do = "add a line such as " + rules.Quote(f.Words[0]+": "+sample(f.Words[0])) + " between the --- lines at the top"
		})
	},
}
