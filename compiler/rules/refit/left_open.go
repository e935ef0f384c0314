package refit

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var leftOpen = rules.Rule{
	Name:     "refit/left-open",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/left-open", func(f source.Fault, x *diag.Finding) {
			thing, done, undo := f.Words[0], f.Words[1], f.Words[2]
			x.Message = fmt.Sprintf("%q: %s here, and never %s again", thing, verb.Past(done), verb.Past(undo))
			if len(f.Counts) > 1 && f.Counts[0] > 0 && f.Counts[1] > 1 {
				x.Message = fmt.Sprintf("%d of %d %s: %s here, and never %s again", f.Counts[0], f.Counts[1], thing, verb.Past(done), verb.Past(undo))
			}
			x.Do = "add {" + undo + " the " + thing + "}, or list it under \"leaves\""
			if other := rules.WordAt(f, 3); other != "" {
				x.Message = rules.Quote(other) + " and " + rules.Quote(thing) + " may be one thing under two names"
				x.Do = "use one name for it at both places"
			}
		})
	},
}
