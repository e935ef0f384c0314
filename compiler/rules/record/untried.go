package record

import (
	"fmt"

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
	var last *procedure.Act
	j.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			switch a.Verb.Effect {
			case verb.Restore, verb.Fill, verb.TopUp:
				last = a
			}
		}
	})
	return last
}

// opened tells whether the job drains, opens or isolates something.
func opened(j *rules.Job) bool {
	found := false
	j.EachAct(func(a *procedure.Act) {
		e := a.Verb.Effect
		found = found || e == verb.Drain || e == verb.Isolate || e == verb.Open && a.Verb.Pair == verb.Either
	})
	return found
}

// tried tells whether anything behind an act looks at the work: a check, a measurement, a record, a hold for somebody else,
// a follow-up, or words that ask for one.
func tried(j *rules.Job, last *procedure.Act) bool {
	found, behind := false, false
	asks := func(s string) {
		found = found || holds(s, "check", "look", "watch", "listen", "test", "run", "try", "measure", "inspect", "prove", "feel", "see", "sure", "verify")
	}
	j.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			if a == last {
				behind = true
				continue
			}
			switch a.Verb.Effect {
			case verb.Checked, verb.Measured, verb.Recorded, verb.Hold:
				found = found || behind
			case verb.FollowUp:
				found = true // printed behind the last step, wherever it stands
			}
			found = found || behind && a.Broken
		}
		for _, r := range s.Runs {
			if behind && r.Act == nil && (s != last.Step || r.At.File == last.At.File && r.At.Start > last.At.Start) {
				asks(r.Text)
			}
		}
	})
	return found
}
