package resolve

import (
	"slices"
	"sort"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// Work is a procedure with what is needed to read one of its steps anew.
type Work struct {
	r      *resolver
	before bool // all declarations stand before the first stage
}

// Begin makes the model of a procedure, as Resolve does, and keeps it.
func Begin(in Input) *Work {
	w := &Work{r: resolved(in)}
	first := len(in.Main.File.Text)
	if len(w.r.p.Stages) > 0 {
		first = w.r.p.Stages[0].At.Start
	}
	w.before = true
	for _, s := range in.Main.Sections {
		w.before = w.before && (declares(in.Main, s) == "" || s.At.Start < first)
	}
	return w
}

// Procedure is the model; Renew changes it.
func (w *Work) Procedure() *procedure.Procedure { return w.r.p }

// Faults gives what was found on the way.
func (w *Work) Faults() []source.Fault { return w.r.faults }

// mostStrange is how many names may be unknown before all is resolved anew: beyond some number no near one is offered.
const mostStrange = 50

// Renew takes in an entry of a list that was read anew: its step is resolved again, and what stands behind it moves. It is false
// when the rest of the procedure may depend on that step: then all has to be resolved, from the tree as it is now.
func (w *Work) Renew(now syntax.Retyped) bool {
	r := w.r
	stage, n := w.stepOf(now)
	if stage == nil || !w.before || r.included || r.strange > mostStrange {
		return false
	}
	old := stage.Steps[n]
	if !selfContained(now.Was.Blocks) || !selfContained(now.Now.Blocks) || !r.alone(old, now.First) || deep(now.Was) != deep(now.Now) {
		return false
	}
	faults, marks := r.faults, r.marks()
	r.faults, r.stage, r.number = nil, stage, old.Number-1
	made := r.oneStep(&procedure.Step{}, now.Now, nil, &pending{})
	fresh := r.faults
	r.faults, r.step = faults, nil
	if r.marks() != marks || !r.alone(made, now.First) {
		return false
	}
	by := now.Shift
	for _, f := range fresh {
		if f.At.File != by.File || f.At.Start < now.First || f.At.Start >= by.From+by.By {
			return false
		}
	}
	kept := make([]source.Fault, 0, len(faults)+len(fresh))
	for _, f := range faults {
		if f.At.File == by.File && f.At.Start >= now.First && f.At.Start < by.From {
			continue
		}
		by.Fault(&f)
		kept = append(kept, f)
	}
	r.faults = append(kept, fresh...)
	sort.SliceStable(r.faults, func(i, j int) bool { return less(r.faults[i].At, r.faults[j].At) })
	r.p.Shift(by, stage, n)
	stage.Steps[n] = made
	return true
}

// stepOf finds the step of an entry; nil where there is none.
func (w *Work) stepOf(now syntax.Retyped) (*procedure.Stage, int) {
	was := now.Was.At
	for _, s := range w.r.p.Stages {
		if s.Title.At != now.Section.TitleAt {
			continue
		}
		n := sort.Search(len(s.Steps), func(i int) bool { return s.Steps[i].At.Start >= was.Start })
		if n < len(s.Steps) && s.Steps[n].At == was {
			return s, n
		}
	}
	return nil, 0
}

// marks tells how much a resolver has gathered that belongs to no step alone.
type marks struct{ waivers, spoken, layouts, stacks, labels, numbers, uses, messages, stages int }

func (r *resolver) marks() marks {
	p := r.p
	return marks{
		len(p.Waivers), len(p.Spoken), len(p.Layouts), len(p.Stacks), len(p.Labels), len(r.numbers), len(r.uses), len(p.Messages), len(p.Stages),
	}
}

// selfContained tells whether what stands in an entry can't concern another: no label and no number of a step, no drawing, picture, pile or
// waiver.
func selfContained(blocks []syntax.Block) bool {
	for _, b := range blocks {
		switch b := b.(type) {
		case *syntax.Paragraph:
			if !selfContainedText(b.Text) {
				return false
			}
		case *syntax.Heading:
			if !selfContainedText(b.Text) {
				return false
			}
		case *syntax.Quote:
			if !selfContainedText(b.Text) {
				return false
			}
		case *syntax.List:
			for _, i := range b.Items {
				if !selfContained(i.Blocks) {
					return false
				}
			}
		default:
			return false
		}
	}
	return true
}

func selfContainedText(list []syntax.Inline) bool {
	for _, i := range list {
		switch i := i.(type) {
		case *syntax.Image:
			return false
		case *syntax.Tag:
			if i.Verb == nil {
				continue
			}
			switch i.Verb.Effect {
			case verb.Label, verb.Number, verb.Waived, verb.Include:
				return false
			}
		}
	}
	return true
}

// alone tells whether nothing before the first byte of a step's entry belongs to it, and no note of it is gathered elsewhere.
func (r *resolver) alone(s *procedure.Step, first int) bool {
	for _, x := range s.Steps {
		if !r.alone(x, first) {
			return false
		}
	}
	if len(s.Before)+len(s.Layouts)+len(s.Stacks) > 0 {
		return false
	}
	for _, m := range s.Messages {
		if m.At.Start < first {
			return false
		}
	}
	return !slices.ContainsFunc(r.p.Spoken, func(a *procedure.Act) bool { return a.Step == s })
}

// deep counts the entries of lists within an entry.
func deep(i *syntax.Item) int {
	n := 0
	for _, b := range i.Blocks {
		if l, ok := b.(*syntax.List); ok {
			for _, x := range l.Items {
				n += 1 + deep(x)
			}
		}
	}
	return n
}
