package part

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

var bySample = rules.Rule{
	Name:     "part/by-sample",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, s := range j.Steps() {
			if !samplePhrases.MayBeIn(s.Passage) {
				continue
			}
			for _, r := range s.Runs {
				if i, n := sampled(r.Text); n > 0 {
					all = append(all, diag.Finding{
						At: within(r.At, r.Text, i, n), Step: s.Number,
						Message: rules.Quote(r.Text[i:i+n]) + " picks a part by the look of the old one",
						Do:      "name the part by its spec or number in the parts list",
					})
				}
			}
		}
		return all
	},
}

// sampled finds such words in a text: where they begin and how many bytes they are, 0 for none.
func sampled(text string) (at, n int) {
	low := strings.ToLower(text)
	for _, words := range sampleWords {
		if i := strings.Index(low, words); i >= 0 && len(low) == len(text) {
			return i, len(words)
		}
	}
	return 0, 0
}

var samplePhrases = rules.NewPhrases(sampleWords...)

// sampleWords lists phrases that choose a part by another part.
var sampleWords = []string{
	"same bolts as removed", "same screws as removed", "same as removed", "same size as the old", "like the old one", "to match the old",
	"as the ones removed", "same type as removed", "same parts as removed", "matching the old", "match the old", "same as the old", "same length as the old", "copies of the old",
	"as came off", "like those that came off",
}
