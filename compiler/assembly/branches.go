package assembly

import (
	"fmt"
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// branch is a condition underway: other is the ledger that goes on without its steps.
type branch struct {
	words string
	first *procedure.Step
	last  int // where its last step stands in the list
	other *ledger
}

// steps plays steps in order. Steps with the same condition are one branch: at the first the ledger is copied, the copy
// plays on without them, and after the last the two are compared. Branches may overlap: each has its own copy.
func (l *ledger) steps(list []*procedure.Step) {
	var open []branch
	for i := 0; i < len(list); i++ {
		s := list[i]
		words := l.condition(s)
		if words != "" && !slices.ContainsFunc(open, func(b branch) bool { return b.words == words }) {
			open = append(open, branch{words, s, l.lastOf(list, words), l.clone()})
		}
		l.one(s) // an otherwise without its if is played as it stands
		for _, b := range open {
			if b.words != words {
				b.other.one(s)
			}
		}
		closing := slices.IndexFunc(open, func(b branch) bool { return b.last == i })
		if closing < 0 {
			continue
		}
		b := open[closing]
		open = slices.Delete(open, closing, closing+1)
		if i+1 < len(list) && list[i+1].Otherwise.Known() {
			i++
			l.otherWay(b.other, list[i])
		}
		l.compare(b.other, b.first)
	}
}

// condition is the words of a step's if, folded; empty where it has none, or the variant has not the step.
func (l *ledger) condition(s *procedure.Step) string {
	if !s.If.Set() || !l.has(s) {
		return ""
	}
	return procedure.Fold(s.If.Value)
}

func (l *ledger) lastOf(list []*procedure.Step, words string) int {
	last := 0
	for i, s := range list {
		if l.condition(s) == words {
			last = i
		}
	}
	return last
}

// has tells whether the variant at hand has a step.
func (l *ledger) has(s *procedure.Step) bool {
	return len(s.For) == 0 || l.variant == "" || slices.ContainsFunc(s.For, func(t procedure.Text) bool { return t.Value == l.variant })
}

// otherWay plays an otherwise on the copy. What is wrong there is wrong all the same, what is spent there may be the more.
func (l *ledger) otherWay(other *ledger, s *procedure.Step) {
	before, muted := len(other.candidates), len(other.mutes)
	other.clock, other.silent = l.clock, false
	other.one(s)
	for _, c := range other.candidates[before:] {
		if c.late == nil {
			l.candidates = append(l.candidates, c)
		}
	}
	l.mutes = append(l.mutes, other.mutes[muted:]...)
	l.play.After = append(l.play.After, other.play.After...)
	l.clock = other.clock
	l.spentOther(other)
}

// spentOther takes over what the other way uses of supplies that this way uses less of.
func (l *ledger) spentOther(other *ledger) {
	for _, x := range other.play.Spent {
		mine := l.used(x.Supply)
		if mine.First == nil {
			mine.First = x.First
		}
		if x.Pieces > mine.Pieces || x.Amount != nil && (mine.Amount == nil || mine.Amount.Cmp(x.Amount) < 0) {
			mine.Acts, mine.Pieces, mine.Amount, mine.Unit = x.Acts, x.Pieces, x.Amount, x.Unit
		}
	}
	for i, g := range other.groups {
		if g != nil && g.touched {
			l.groups[i].touched = true
		}
	}
}

// one plays one step with its repeats and sub-steps.
func (l *ledger) one(s *procedure.Step) {
	if !l.has(s) {
		return
	}
	switch {
	case s.Repeat.Until != "":
		l.round(s)
		l.again(s)
	case s.Repeat.Times > 1:
		before := len(l.candidates)
		for range min(s.Repeat.Times, 100) {
			l.round(s)
		}
		l.once(before)
	default:
		l.round(s)
	}
	if !l.silent && (l.trace || s.Handover.Known()) {
		l.play.After = append(l.play.After, l.state(s))
	}
}

func (l *ledger) round(s *procedure.Step) {
	outer := l.step
	l.step = s
	for _, a := range s.Acts {
		l.apply(a)
	}
	l.steps(s.Steps)
	l.step = outer
}

// once drops what a repeated step found a second time.
func (l *ledger) once(from int) {
	seen := map[string]bool{}
	kept := l.candidates[:from]
	for _, c := range l.candidates[from:] {
		key := fmt.Sprint(c.fault.Name, c.fault.At.Start, c.fault.Thing)
		if !seen[key] {
			seen[key] = true
			kept = append(kept, c)
		}
	}
	l.candidates = kept
}

// again plays a step a second time on a copy: what can't be done twice contradicts "repeat until".
func (l *ledger) again(s *procedure.Step) {
	copied := l.clone()
	before := len(copied.candidates)
	copied.round(s)
	for _, c := range copied.candidates[before:] {
		if c.late != nil || c.fault.Name == "energy/restored-early" {
			continue
		}
		f := l.find("refit/branches-differ", s.Repeat.At, []string{c.fault.Thing, "", "", "repeat"}, c.names...)
		f.fault.Related = []source.Related{{At: c.fault.At, Words: "second time"}}
		f.fault.Step = s.Number
		return
	}
}
