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
			sum := p.sum()
			least, most := new(big.Rat).Sub(sum.nominal, sum.worst), new(big.Rat).Add(sum.nominal, sum.worst)
			if p.fitted || outside(sum.nominal, low, high) || !outside(least, low, high) && !outside(most, low, high) {
				return "", "", false
			}
			return fmt.Sprintf("%q is %s, and good parts can still miss %s: ±%s at worst, ±%s likely (root sum of squares)",
					p.stack.Name.Value, p.text(sum.nominal), p.stack.Target.Running(), p.text(sum.worst), p.text(rat(sum.root))),
				"widen the target, narrow a tolerance, or add a shim that is fitted as needed (Qty: up to 2)", true
		})
	},
}

// judged makes findings of the piles that say finds something in; one that holds for all variants is one finding.
func judged(j *rules.Job, say func(pile) (message, do string, found bool)) []diag.Finding {
	var all []diag.Finding
	for _, p := range piles.Of(j) {
		if !p.sized || !length(p.stack.Target) || p.fits() || miscounted(j, p.stack) {
			continue
		}
		message, do, found := say(p)
		if !found {
			continue
		}
		same := func(f diag.Finding) bool { return f.At == p.stack.TargetAt && f.Message == message }
		if i := slices.IndexFunc(all, same); i >= 0 {
			all[i].Variants = append(all[i].Variants, p.variant)
			continue
		}
		all = append(all, diag.Finding{
			At: p.stack.TargetAt, Step: p.stack.Step.Num(), Message: message, Do: do, Thing: p.stack.Name.Value,
			Variants: []string{p.variant},
		})
	}
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
