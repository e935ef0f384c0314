package energy

import (
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// stored lists words that name stored energy. Where the trade uses a word for a part too ("pressure plate", "spring
// washer"), the word alone is no hazard: see part.
var stored = []string{"accumulator", "capacitor", "hung load", "under pressure", "pressurised", "loaded spring", "compressed spring", "spring tension", "stored pressure", "hydraulic pressure", "air pressure"}

var storedPhrases = rules.NewPhrases(stored...)

// relief looks for stored energy that the job names and never lets out. It is silent unless something is isolated.
func relief(j *rules.Job) []diag.Finding {
	does := func(e verb.Effect) bool {
		return len(j.Doing(e)) > 0 || slices.ContainsFunc(j.Acts()[len(j.StepActs()):], func(a *procedure.Act) bool { return a.Verb.Effect == e })
	}
	if !does(verb.Isolate) || does(verb.Relieve) || j.Lost("relieve") {
		return nil
	}
	for _, s := range j.Steps() {
		if !storedPhrases.MayBeIn(s.Passage) {
			continue
		}
		for _, r := range s.Runs {
			if r.Act != nil {
				continue
			}
			low := strings.ToLower(r.Text)
			for _, word := range stored {
				i := strings.Index(low, word)
				if i < 0 || len(low) != len(r.Text) || !r.Exact() {
					continue
				}
				return []diag.Finding{{
					At: r.At.File.At(r.At.Start+i, r.At.Start+i+len(word)), Step: s.Number,
					Message: rules.Quote(word) + " is named in this isolated job, and no step relieves it",
					Do:      "add {relieve the " + word + "} after the isolation, and a check that it is gone",
				}}
			}
		}
	}
	return nil
}
