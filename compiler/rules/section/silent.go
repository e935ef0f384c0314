package section

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var silent = rules.Rule{
	Name:     "section/silent",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("section/silent", func(f source.Fault, x *diag.Finding) {
			x.Message = "there is no section " + rules.List(rules.Quoted(f.Words), "or")
			x.Do = fmt.Sprintf("add the heading \"## %s\", with a line \"- none\" under it if the job needs none", f.Words[0])
		})
	},
}
