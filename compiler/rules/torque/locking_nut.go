package torque

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var lockingNut = rules.Rule{
	Name:     "torque/locking-nut",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		tags := torqueTags.Of(j)
		for _, p := range j.Proc.Parts {
			if p.Hardware.Nut != "nylon insert" || p.Hardware.Thread == nil || p.Torque.HandTight || p.Torque.BySetting || len(tags.of(p)) == 0 || j.Muted(p.Name.Value) {
				continue
			}
			act := tags.of(p)[len(tags.of(p))-1]
			f := diag.Finding{
				At: act.At, Step: act.Step.Num(), Thing: p.Name.Value,
				Message: fmt.Sprintf("%s grips the thread, and nothing is said of the torque that it takes just to turn it", rules.Quote(p.Name.Value)),
				Do:      "say that its running torque is measured and added, or that the value includes it already",
			}
			if grip := p.Hardware.Thread.Grip(); grip != "" && p.Use == procedure.Reuse {
				f.Why = "a part of the torque only turns the insert; used again it has to grip with at least " + grip
			}
			all = append(all, f)
		}
		if len(all) > 0 && runningSaid(j) {
			return nil
		}
		return all
	},
}

// runningWords are the trade's words for the torque that turns a locking nut before it bears.
var (
	runningWords   = []string{"running torque", "run-down torque", "run down torque", "prevailing", "drag", "torque to turn it", "runs down"}
	runningPhrases = rules.NewPhrases(runningWords...)
)

// runningSaid tells whether any step or note speaks of it.
func runningSaid(j *rules.Job) bool {
	if j.Lost(runningWords...) {
		return true
	}
	passages := j.Passages()
	for i := range passages {
		p := &passages[i]
		if p.Kind == rules.Cautioning || p.Kind == rules.Noting && p.Within == 0 || !runningPhrases.MayBeIn(p) {
			continue
		}
		low := strings.ToLower(p.Text)
		if slices.ContainsFunc(runningWords, func(w string) bool { return strings.Contains(low, w) }) {
			return true
		}
	}
	return false
}
