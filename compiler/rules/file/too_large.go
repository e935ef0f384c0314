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
			x.Do = lessOf(rules.WordAt(f, 0))
		})
	},
}

// lessOf says what to do about too much of a thing.
func lessOf(what string) string {
	switch {
	case what == "bytes in one text":
		return "break the text up: no card has room for a paragraph of that length"
	case strings.HasPrefix(what, "places that can't"):
		return "mend the first of them, then check again: the rest are not told"
	case strings.HasPrefix(what, "entries under"), what == "bytes in the front matter":
		return "take out what this one procedure does not need"
	case strings.Contains(what, "picture"):
		return "make the picture smaller in a picture program, or show fewer"
	case strings.Contains(what, "drawing"):
		return "make the drawing simpler, or save it as PNG"
	}
	return "split the procedure into several, and name the next one under \"then\""
}
