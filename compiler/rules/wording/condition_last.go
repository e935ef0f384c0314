package wording

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var conditionLast = rules.Rule{
	Name:     "wording/condition-last",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachSaid(j, ifPhrase, func(_ *rules.Passage, text string) bool { return strings.Contains(text, " if") && ifWritten.Of(j) }, func(s *said) {
			for _, c := range prose.Cut(s.plain) {
				act, _ := s.ordered(c.From, c.To)
				from, to := prose.LateCondition(s.plain[c.From:c.To], act)
				if to == 0 || asked(s, c) {
					continue
				}
				from, to = from+c.From, to+c.From
				all = append(all, diag.Finding{
					At: s.at(from, to), Step: s.passage.Within,
					Message: fmt.Sprintf("%s comes after the act that depends on it", rules.Quote(s.text[from:to])),
					Do:      "put the condition first, with a comma after it; or begin the step with {if …}",
				})
			}
		})
		return all
	},
}

var (
	ifPhrase  = rules.NewPhrases(" if")
	ifWritten = rules.NewFact(func(j *rules.Job) bool { return written(j, " if ", " if\n") })
)

// asked tells whether an act of the sentence finds out, so that "if" is "whether".
func asked(s *said, c prose.Span) bool {
	for _, a := range s.acts {
		switch a.Verb.Effect {
		case verb.Checked, verb.Measured, verb.Recorded, verb.Hold:
			if i := s.where(a); i >= c.From && i < c.To {
				return true
			}
		}
		if a.Verb.Name == "tell" || a.Broken {
			return true
		}
	}
	return false
}

// where is the first byte of an act's words.
func (s said) where(a *procedure.Act) int {
	for k, r := range s.Runs {
		if r.Act == a {
			return s.From(k)
		}
	}
	return -1
}
