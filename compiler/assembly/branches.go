package assembly

import (
	"fmt"
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// steps plays steps in order. Steps with the same condition are one branch: at the first the ledger is copied, the copy
// plays on without them, and after the last the two are compared.
func (l *ledger) steps(list []*procedure.Step) {
	for i := 0; i < len(list); i++ {
		s := list[i]
		if !s.If.Set() || !l.has(s) {
			if s.Otherwise.Known() && l.has(s) { // an otherwise without its if: played as it stands
				l.one(s)
				continue
			}
			l.one(s)
			continue
		}
		i = l.branch(list, i)
	}
}

// has tells whether the variant at hand has a step.
func (l *ledger) has(s *procedure.Step) bool {
	return len(s.For) == 0 || l.variant == "" || slices.ContainsFunc(s.For, func(t procedure.Text) bool { return t.Value == l.variant })
}

// branch plays from the first step of a condition to its last, and the otherwise behind it; it gives the last index played.
func (l *ledger) branch(list []*procedure.Step, from int) int {
	words := procedure.Fold(list[from].If.Value)
	last := from
	for i := from; i < len(list); i++ {
		if list[i].If.Set() && procedure.Fold(list[i].If.Value) == words {
			last = i
		}
	}
	other := l.clone()
	for i := from; i <= last; i++ {
		s := list[i]
		if s.If.Set() && procedure.Fold(s.If.Value) == words {
			l.one(s)
			continue
		}
		l.one(s)
		other.one(s)
	}
	end := last
	if last+1 < len(list) && list[last+1].Otherwise.Known() {
		end = last + 1
		before, muted := len(other.candidates), len(other.mutes)
		other.clock, other.silent = l.clock, false
		if l.has(list[end]) {
			other.one(list[end])
		}
		for _, c := range other.candidates[before:] { // what is wrong in the other way is wrong all the same
			if c.late == nil {
				l.candidates = append(l.candidates, c)
			}
		}
		l.mutes = append(l.mutes, other.mutes[muted:]...)
		l.play.After = append(l.play.After, other.play.After...)
		l.clock = other.clock
		l.spentOther(other)
	}
	l.compare(other, list[from])
	return end
}

// spentOther takes over what the other way uses of supplies that this way leaves alone.
func (l *ledger) spentOther(other *ledger) {
	for _, x := range other.play.Spent {
		mine := l.used(x.Supply)
		if mine.First == nil {
			mine.First = x.First
		}
		mine.Acts = append(mine.Acts, x.Acts...)
		mine.Pieces = max(mine.Pieces, x.Pieces)
		if x.Amount != nil && (mine.Amount == nil || mine.Amount.Cmp(x.Amount) < 0) {
			mine.Amount, mine.Unit = x.Amount, x.Unit
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
