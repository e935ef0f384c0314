package include

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var differs = rules.Rule{
	Name:     "include/differs",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("include/differs", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("the %s %q is listed here and elsewhere with different details", f.Words[0], f.Words[1])
			x.Do = "make the two lines equal, or give one of the two things another name"
		})
	},
}
