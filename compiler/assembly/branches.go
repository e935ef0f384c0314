package assembly

import (
	"fmt"
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// branch is a condition underway: other is the ledger that goes on without its steps.
type branch struct {
	words string
	first *procedure.Step
	last  int // where its last step stands in the job
	other *ledger
}

// conditions finds the place of each step in the job, and where the last step of each condition stands that this variant has.
func (l *ledger) conditions(list []*procedure.Step, done bool) {
	for _, s := range list {
		l.order[s] = len(l.order)
		here := done && l.has(s)
		if words := l.condition(s); words != "" && here {
			l.lasts[words] = l.order[s]
		}
		l.conditions(s.Steps, here)
	}
}

// conditional tells whether a step, or one below it, has a condition.
func conditional(list []*procedure.Step) bool {
	return slices.ContainsFunc(list, func(s *procedure.Step) bool { return s.If.Set() || conditional(s.Steps) })
}

// touching is how many times the acts of steps touch a part, each step done once.
func touching(list []*procedure.Step) (n int) {
	for _, s := range list {
		for _, a := range s.Acts {
			if e := a.Verb.Effect; verb.Remove <= e && e <= verb.DoTorque {
				n += len(a.Objects)
			}
		}
		n += touching(s.Steps)
	}
	return n
}

// steps plays steps in order. Steps with the same condition are one branch, wherever they stand: at the first the ledger is
// copied, the copy plays on without them, and after the last the two are compared. Branches may overlap: each has its own copy.
// A list answers for the branches that began in it or below it; those that began above are played on there.
func (l *ledger) steps(list []*procedure.Step) {
	base, taken := len(l.open), ""
	for i, s := range list {
		words := l.condition(s)
		switch {
		case s.Otherwise.Known() && taken != "": // this ledger went the way of the if
			l.otherwise(base, taken, s)
			taken = ""
		case words != "" && slices.Contains(l.skips, words): // the copy skips it, and goes the way of an otherwise behind it
			taken = ""
		default:
			l.both(base, words, s)
			taken = words
		}
		if taken != "" && i+1 < len(list) && list[i+1].Otherwise.Known() {
			continue
		}
		l.join(base, s)
	}
}

// both plays a step on this ledger and on the copies of the branches that a list answers for.
func (l *ledger) both(base int, words string, s *procedure.Step) {
	if words != "" && !l.silent && !slices.ContainsFunc(l.open, func(b branch) bool { return b.words == words }) {
		other := l.clone()
		other.skips = append(slices.Clip(l.skips), words)
		l.open = append(l.open, branch{words, s, l.lasts[words], other})
	}
	n := len(l.open)
	l.one(s)
	for _, b := range l.open[base:n] {
		b.other.one(s)
	}
}

// join compares the ledgers of the branches that end with a step.
func (l *ledger) join(base int, s *procedure.Step) {
	if len(l.open) <= base {
		return
	}
	for len(s.Steps) > 0 {
		s = s.Steps[len(s.Steps)-1]
	}
	for i := base; i < len(l.open); {
		b := l.open[i]
		if b.last > l.order[s] {
			i++
			continue
		}
		l.open = slices.Delete(l.open, i, i+1)
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

// has tells whether the variant at hand has a step.
func (l *ledger) has(s *procedure.Step) bool {
	return len(s.For) == 0 || l.variant == "" || slices.ContainsFunc(s.For, func(t procedure.Text) bool { return t.Value == l.variant })
}

// otherwise plays the other way of a condition on its copy. What is wrong there is wrong all the same, what is spent there may
// be the more. A branch that began above the list is played on above.
func (l *ledger) otherwise(base int, words string, s *procedure.Step) {
	i := slices.IndexFunc(l.open, func(b branch) bool { return b.words == words })
	if i < base {
		return
	}
	other := l.open[i].other
	before, muted, pictures := len(other.candidates), len(other.mutes), len(other.play.After)
	other.clock, other.silent = max(l.clock, other.clock), false
	other.one(s)
	other.silent = true
	for _, c := range other.candidates[before:] {
		if c.late == nil {
			l.candidates = append(l.candidates, c)
		}
	}
	l.mutes = append(l.mutes, other.mutes[muted:]...)
	l.play.After = append(l.play.After, other.play.After[pictures:]...)
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
		if x.Pieces > mine.Pieces || x.Amount != nil && (mine.Amount == nil || quantity.Compare(mine.Amount, x.Amount) < 0) {
			mine.Acts, mine.Pieces, mine.Unit = slices.Clip(x.Acts), x.Pieces, x.Unit
			if x.Amount != nil {
				mine.Amount = x.Amount
			}
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
	if words := l.condition(s); !l.has(s) || words != "" && slices.Contains(l.skips, words) {
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
