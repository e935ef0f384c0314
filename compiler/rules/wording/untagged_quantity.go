package wording

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var untaggedQuantity = rules.Rule{
	Name:     "wording/untagged-quantity",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		var lost map[int]bool
		steps := j.Steps()
		for i := range steps {
			s := &steps[i]
			if !plainDigit.On(j, s.Passage) {
				continue
			}
			if lost == nil {
				lost = unreadSteps(j)
			}
			if lost[s.Number] {
				continue // what looks like plain text may be the words of a tag
			}
			for _, p := range pieces(s.Runs) {
				i, n, what := p.quantity()
				if n == 0 {
					continue
				}
				if unusedTool(j, p.text[:i], p.text[i:i+n]) {
					continue // the tool that it belongs to is in the list, and nothing uses it: that is the finding
				}
				do := "put it into the braces of its act: {torque … to 22 N·m} or {wait 10 min}"
				for _, t := range j.Proc.Tools {
					if from := strings.Index(t.Whole, p.text[i:i+n]); from > 0 && strings.HasSuffix(p.text[:i], t.Whole[:from]) {
						do = "put braces around the tool: {tool " + t.Whole + "}"
					}
				}
				all = append(all, diag.Finding{
					At: p.at(i, n), Step: s.Number,
					Message: fmt.Sprintf("%q is %s without braces", p.text[i:i+n], what),
					Do:      do,
				})
			}
		}
		return all
	},
}

// plainDigit marks the passages with a digit outside of tags.
var plainDigit = rules.NewMark(func(_ *rules.Job, p *rules.Passage) bool {
	return slices.ContainsFunc(p.Spoken, func(r procedure.Run) bool { return !tagged(r) && hasDigit(r.Text) })
})

// unusedTool tells whether a quantity ends the name of a listed tool that no tag names.
func unusedTool(j *rules.Job, before, quantity string) bool {
	for _, t := range j.Proc.Tools {
		if from := strings.Index(t.Whole, quantity); from <= 0 || !strings.HasSuffix(before, t.Whole[:from]) {
			continue
		}
		return !slices.ContainsFunc(j.Acts(), func(a *procedure.Act) bool { return a.Tool == t })
	}
	return false
}
