package stack

import (
	"fmt"
	"math/big"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var tolerance = rules.Rule{
	Name:     "stack/tolerance",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return judged(j, func(p pile) (string, string, bool) {
			low, high := p.target()
			least, most := new(big.Rat).Sub(p.sum.nominal, p.sum.worst), new(big.Rat).Add(p.sum.nominal, p.sum.worst)
			if p.fitted || outside(p.sum.nominal, low, high) || !outside(least, low, high) && !outside(most, low, high) {
				return "", "", false
			}
			return fmt.Sprintf("%q is %s, and good parts can still miss %s: ±%s at worst, ±%s likely (root sum of squares)",
					p.stack.Name.Value, p.text(p.sum.nominal), p.stack.Target.Running(), p.text(p.sum.worst), p.text(rat(p.sum.root))),
				"widen the target, narrow a tolerance, or add a shim that is fitted as needed (Qty: up to 2)", true
		})
	},
}

// judged makes findings of the piles that say finds something in; one that holds for all variants is one finding.
func judged(j *rules.Job, say func(pile) (message, do string, found bool)) []diag.Finding {
	var all []diag.Finding
	eachPile(j, func(p pile) {
		if !p.sized || !length(p.stack.Target) || miscounted(j, p.stack) {
			return
		}
		message, do, found := say(p)
		if !found {
			return
		}
		for i := range all {
			if all[i].At == p.stack.TargetAt && all[i].Message == message {
				all[i].Variants = append(all[i].Variants, p.variant)
				return
			}
		}
		all = append(all, diag.Finding{
			At: p.stack.TargetAt, Step: p.stack.Step.Num(), Message: message, Do: do, Thing: p.stack.Name.Value,
			Variants: []string{p.variant},
		})
	})
	for i := range all {
		if len(all[i].Variants) == len(j.Plays) {
			all[i].Variants = nil
		}
	}
	return all
}

// miscounted tells whether the pile has another number of a part than the table: then its height says nothing yet.
func miscounted(j *rules.Job, s *procedure.Stack) bool {
	return slices.ContainsFunc(miscounts.Of(j), func(f diag.Finding) bool {
		return slices.ContainsFunc(s.Layers, func(l procedure.Layer) bool { return l.At == f.At })
	})
}
