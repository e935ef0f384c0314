package file

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var tooLarge = rules.Rule{
	Name:     "file/too-large",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("file/too-large", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("too many %s: %d, and %d is the limit", rules.WordAt(f, 0), rules.CountAt(f, 0), rules.CountAt(f, 1))
			x.Do = "split the procedure into several, and name the next one under \"then\""
			if what := rules.WordAt(f, 0); strings.Contains(what, "picture") {
				x.Do = "make the picture smaller in a picture program, or show fewer"
			} else if strings.Contains(what, "drawing") {
				x.Do = "make the drawing simpler, or save it as PNG"
			}
		})
	},
}
