package part

import (
	"strings"
	"sync"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var bySample = rules.Rule{
	Name:     "part/by-sample",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachText(j, func(at source.Span, text string, step int) {
			if sampleFinder().In([]byte(text)) == 0 {
				return
			}
			low := strings.ToLower(text)
			for _, words := range sampleWords {
				i := strings.Index(low, words)
				if i < 0 || len(low) != len(text) {
					continue
				}
				all = append(all, diag.Finding{
					At: within(at, text, i, len(words)), Step: step,
					Message: rules.Quote(text[i:i+len(words)]) + " picks a part by the look of the old one",
					Do:      "name the part by its spec or number in the parts list",
				})
				return
			}
		})
		return all
	},
}

var sampleFinder = sync.OnceValue(func() *rules.Finder { return rules.NewFinder(sampleWords) })

// sampleWords lists phrases that choose a part by another part.
var sampleWords = []string{
	"same bolts as removed", "same screws as removed", "same as removed", "same size as the old", "like the old one", "to match the old",
	"as the ones removed", "same type as removed", "same parts as removed", "matching the old", "match the old", "same as the old", "same length as the old", "copies of the old",
	"as came off", "like those that came off",
}
