package stack

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var count = rules.Rule{
	Name:     "stack/count",
	Severity: diag.Error,
	Check:    func(j *rules.Job) []diag.Finding { return slices.Clone(miscounts.Of(j)) },
}

// miscounts are its findings, which the other checks of piles ask for too.
var miscounts = rules.NewFact(func(j *rules.Job) []diag.Finding {
	all := alternating(j)
	for _, play := range j.Plays {
		for _, t := range totals(j, play.Variant) {
			if counted(j, t.part) || t.fits() || t.n < t.part.Qty && !inOne(j, t) || slices.ContainsFunc(all, func(f diag.Finding) bool { return f.At == t.first.At }) {
				continue
			}
			all = append(all, diag.Finding{
				At: t.first.At, Step: t.stack.Step.Num(), Thing: t.part.Name.Value,
				Message: fmt.Sprintf("%q has %s, and the parts list has %d", t.stack.Name.Value, procedure.CountName(t.n, t.part.Name.Value), t.part.Qty),
				Do:      "correct the count in the pile, or the Qty in the parts list",
				Related: []source.Related{{At: t.part.QtyAt, Words: "here"}},
			})
		}
	}
	return all
})

// alternating finds layers that can't take turns: their counts differ by more than one.
func alternating(j *rules.Job) []diag.Finding {
	var all []diag.Finding
	for _, s := range j.Proc.Stacks {
		for i, l := range s.Layers {
			if !l.Alternates || i == 0 || !whole(j, s) {
				continue
			}
			before := s.Layers[i-1]
			if d := before.Count - l.Count; -1 <= d && d <= 1 {
				continue
			}
			all = append(all, diag.Finding{
				At: l.At, Step: s.Step.Num(), Thing: l.Part.Name.Value,
				Message: fmt.Sprintf("%s can't alternate with %s", procedure.CountName(l.Count, l.Part.Name.Value), procedure.CountName(before.Count, before.Part.Name.Value)),
				Do:      "give counts that differ by one at most, or write them as two layers",
			})
		}
	}
	return all
}

// total is how many of a part stand in all piles that one variant has.
type total struct {
	part   *procedure.Part
	n      int
	stacks int
	first  procedure.Layer
	stack  *procedure.Stack
}

func totals(j *rules.Job, variant string) []*total {
	var all []*total
	for _, s := range j.Proc.Stacks {
		if !stacked(s, variant) || !whole(j, s) {
			continue
		}
		for _, l := range s.Layers {
			part := l.Part.For(variant)
			i := slices.IndexFunc(all, func(t *total) bool { return t.part == part })
			if i < 0 {
				i = len(all)
				all = append(all, &total{part: part, first: l, stack: s})
			}
			all[i].n += l.Count
			all[i].stacks++
		}
	}
	return all
}

// fits tells whether the table has that many.
func (t *total) fits() bool { return t.n == t.part.Qty || t.part.UpTo && t.n <= t.part.Qty }

// inOne tells whether all that the table has go in with one act, so that none of them can stand elsewhere than in the pile.
func inOne(j *rules.Job, t *total) bool {
	if t.stacks != 1 || t.part.UpTo {
		return false
	}
	acts, whole := 0, false
	for _, a := range j.StepActs() {
		if a.Verb.Effect != verb.Install && a.Verb.Effect != verb.Replace {
			continue
		}
		for _, o := range a.Objects {
			if o.Part == nil || !slices.Contains(rows(o.Part), t.part) {
				continue
			}
			acts++
			whole = (o.Count == procedure.Bare || o.Count == procedure.All || o.N == t.part.Qty) && !shared(a)
		}
	}
	return acts == 1 && whole
}

// shared tells whether the words of an act part its things between places.
func shared(a *procedure.Act) bool {
	low := " " + strings.ToLower(a.Detail) + " "
	for _, w := range []string{"each", "either", "both", "end", "ends", "side", "sides", "half"} {
		if strings.Contains(low, " "+w+" ") {
			return true
		}
	}
	return false
}

// counted tells whether the steps already disagree with the table about the number of a part: that finding says it.
func counted(j *rules.Job, p *procedure.Part) bool {
	return slices.ContainsFunc(append(j.Named("part/too-many"), j.Named("part/singular")...), func(f source.Fault) bool {
		return f.Thing == p.Name.Value
	})
}
