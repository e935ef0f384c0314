package file

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var approvedByAuthor = rules.Rule{
	Name:     "file/approved-by-author",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/approved-by-author", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " wrote the procedure and approved it"
			x.Do = "have somebody else read and approve it"
		})
	},
}
