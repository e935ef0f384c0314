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
		for _, s := range j.Steps() {
			if !slices.ContainsFunc(s.Runs, func(r procedure.Run) bool { return !tagged(r) && hasDigit(r.Text) }) {
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
