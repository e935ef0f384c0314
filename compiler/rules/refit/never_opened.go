package refit

import (
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var neverOpened = rules.Rule{
	Name:     "refit/never-opened",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("refit/never-opened", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " was never " + verb.Past(f.Words[2]) + ": there is nothing to " + f.Words[1]
			x.Do = "add the act {" + f.Words[2] + " the " + f.Words[0] + "} before it, or take this one out"
			if offer := rules.WordAt(f, 3); offer != "" {
				x.Do = "use one name in both acts: this one, or " + rules.Quote(offer)
			}
		})
	},
}
