package record

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var noOtherwise = rules.Rule{
	Name:     "record/no-otherwise",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, a := range j.Doing(verb.Measured) {
			if !bounded(a) || a.Else != "" || answered(a, j.From(a.Step)) {
				continue
			}
			all = append(all, diag.Finding{
				At: a.LimitAt, Step: a.Step.Num(),
				Message: fmt.Sprintf("nothing says what to do when %q is not %s", a.Name, a.Limit.Running()),
				Do:      "add it after the limits: {measure … " + a.Limit.Running() + ", else tell the foreman}",
			})
		}
		return all
	},
}

func bounded(a *procedure.Act) bool {
	return isMeasure(a) && a.Limit != nil && a.Limit.Form != quantity.Exact
}

// answered tells whether the words after the measurement say what to do: in its own step or the next one, or in a later
// condition that speaks of the same thing.
func answered(a *procedure.Act, rest []rules.Step) bool {
	for i, s := range rest {
		if s.Repeat.Until != "" && (i == 0 || share(a.Name, s.Repeat.Until)) {
			return true
		}
		if s.If.Set() && (i < 2 || share(a.Name, s.If.Value)) || s.Otherwise.Known() && i < 2 {
			return true
		}
		if i < 2 && holds(strings.ReplaceAll(stepText(s.Step), a.Words, ""), "if", "otherwise", "outside", "else", "until", "adjust", "unless", "out of limits") {
			return true
		}
	}
	return false
}
