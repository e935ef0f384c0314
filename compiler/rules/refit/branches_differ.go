package refit

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var branchesDiffer = rules.Rule{
	Name:     "refit/branches-differ",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		if j.ConditionLost() {
			return nil // a step that belongs to a condition may stand outside it by that slip
		}
		all := j.Word("refit/branches-differ", func(f source.Fault, x *diag.Finding) {
			if rules.WordAt(f, 3) == "repeat" {
				x.Message = "this step can't be done a second time: " + rules.Quote(f.Words[0]) + " is not as it was the first time"
				x.Do = "undo in this step what it does, or move the act to a step that is not repeated"
				return
			}
			x.Message = fmt.Sprintf("%q ends in two states: %s when this is done, %s when it is skipped",
				f.Words[0], standing(rules.Or(f.Words[1], "unchanged")), standing(rules.Or(f.Words[2], "unchanged")))
			x.Do = "undo it under the same condition: begin the step that undoes it with the same {if …}"
		})
		for i := range all {
			if other := nearlyTheSame(j, all[i].At); other != nil {
				all[i].Related = append(slices.Clone(all[i].Related), source.Related{At: other.If.At, Words: "in other words", Step: other.Number})
				all[i].Do = "write the condition in the same words in both steps"
				return all[:i+1]
			}
		}
		return all
	},
}

// nearlyTheSame finds a step whose condition is nearly, and not quite, that of another.
func nearlyTheSame(j *rules.Job, at source.Span) *procedure.Step {
	var found *procedure.Step
	words := procedure.Fold(at.Text())
	for _, s := range j.Steps() {
		if other := procedure.Fold(s.If.At.Text()); s.If.Set() && other != words && verb.Near(words, []string{other}) != "" {
			found = s.Step
		}
	}
	return found
}
