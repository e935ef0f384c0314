package record

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// The file can't bear the rule's name: the Go tools would take no_test.go for a test.
var noTest = rules.Rule{
	Name:     "record/no-test",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		last := givenBack(j)
		if last == nil || !opened(j) || tried(j, last) {
			return nil
		}
		return []diag.Finding{{
			At: last.At, Step: last.Step.Num(),
			Message: fmt.Sprintf("nothing is checked or measured after %q, so nobody knows whether the work is good", last.Words),
			Do:      "add a check after it, such as {check the cover is dry after two lifts}",
		}}
	},
}

// givenBack is the last act that restores energy or fills a fluid, nil when there is none.
func givenBack(j *rules.Job) *procedure.Act {
	acts := j.StepActs()
	for i := len(acts) - 1; i >= 0; i-- {
		switch acts[i].Verb.Effect {
		case verb.Restore, verb.Fill, verb.TopUp:
			return acts[i]
		}
	}
	return nil
}

// opened tells whether the job drains, opens or isolates something.
func opened(j *rules.Job) bool {
	return slices.ContainsFunc(j.Acts(), func(a *procedure.Act) bool {
		e := a.Verb.Effect
		return e == verb.Drain || e == verb.Isolate || e == verb.Open && a.Verb.Pair == verb.Either
	})
}

// askWords ask for a look at the work.
var (
	askWords   = []string{"check", "look", "watch", "listen", "test", "run", "try", "measure", "inspect", "prove", "feel", "see", "sure", "verify"}
	askPhrases = rules.NewPhrases(askWords...)
)

// tried tells whether anything behind an act looks at the work: a check, a measurement, a record, a hold for somebody else,
// a follow-up, or words that ask for one.
func tried(j *rules.Job, last *procedure.Act) bool {
	if len(j.Doing(verb.FollowUp)) > 0 {
		return true // printed behind the last step, wherever it stands
	}
	behind := false
	for _, s := range j.From(last.Step) {
		for _, a := range s.Acts {
			if a == last {
				behind = true
				continue
			}
			switch a.Verb.Effect {
			case verb.Checked, verb.Measured, verb.Recorded, verb.Hold:
				if behind {
					return true
				}
			}
			if behind && a.Broken {
				return true
			}
		}
		if !askPhrases.MayBeIn(s.Passage) {
			continue
		}
		for _, r := range s.Runs {
			if r.Act == nil && (s.Step != last.Step || r.At.File == last.At.File && r.At.Start > last.At.Start) && holds(r.Text, askWords...) {
				return true
			}
		}
	}
	return false
}
