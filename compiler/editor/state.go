package editor

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
)

// stateHere tells how a thing stands before and after the step that holds an offset; of the declarations, at the end of the job.
func (v *View) stateHere(t Thing, offset int) string {
	if t.Sort != Part && t.Sort != Supply || t.Sort == Part && v.isAdded(t) {
		return ""
	}
	step := v.stepAt(offset)
	var said []string
	for _, p := range v.plays() {
		if step == nil {
			said = append(said, variantOf(p)+"at the end of the job: "+standing(p.End, t))
			continue
		}
		i := -1
		for k, s := range p.After {
			if s.Step == step {
				i = k
			}
		}
		if i < 0 {
			continue // this variant skips the step
		}
		before := p.Start
		if i > 0 {
			before = p.After[i-1]
		}
		was, is := standing(before, t), standing(p.After[i], t)
		if was == is {
			said = append(said, fmt.Sprintf("%sin step %s: %s", variantOf(p), step.Name(), is))
			continue
		}
		said = append(said, fmt.Sprintf("%sbefore step %s: %s; after it: %s", variantOf(p), step.Name(), was, is))
	}
	return strings.Join(slices.Compact(said), "\n\n")
}

// isAdded tells whether a part was not on the machine before the job: a state tells of the parts of a whole machine alone.
func (v *View) isAdded(t Thing) bool {
	return slices.ContainsFunc(v.Result.Proc.Parts, func(p *procedure.Part) bool { return p.Use == procedure.Add && partThing(p) == t })
}

func variantOf(p assembly.Play) string {
	if p.Variant == "" {
		return ""
	}
	return escaped(p.Variant) + ", "
}

// standing says how a part or a fluid stands in a state of the machine.
func standing(s assembly.State, t Thing) string {
	var said []string
	for _, list := range [][]assembly.Counted{s.Off, s.Loose, s.Scrap} {
		for _, c := range list {
			if c.Part != nil && procedure.Fold(c.Name) == t.Name && t.Sort == Part {
				said = append(said, countedWords(c))
			}
		}
	}
	for _, c := range s.Open {
		if procedure.Fold(c.Name) == t.Name && c.Why != "" {
			said = append(said, "the act was: "+c.Why)
		}
	}
	if t.Sort == Supply && slices.ContainsFunc(s.Drained, func(n string) bool { return procedure.Fold(n) == t.Name }) {
		said = append(said, "drained")
	}
	switch {
	case len(said) > 0:
		return strings.Join(said, ", ")
	case t.Sort == Supply:
		return "not drained"
	}
	return "all on, none loose"
}

// gripWords puts the words of the ledger into those of the trade.
var gripWords = map[string]string{"in": "in and not tightened", "stage": "at a first stage of its torque", "tight": "tight, not torqued", "scrap": "scrapped"}

func countedWords(c assembly.Counted) string {
	word := c.Why
	if w, ok := gripWords[word]; ok {
		word = w
	}
	if c.Of <= 1 && c.N <= 1 {
		return word
	}
	return fmt.Sprintf("%d of %d %s", c.N, c.Of, word)
}

// stepAt gives the innermost step of the file that is looked at which holds an offset.
func (v *View) stepAt(offset int) (found *procedure.Step) {
	v.Result.Proc.EachStep(func(s *procedure.Step) {
		if v.at(s.At, offset) && (found == nil || s.At.End-s.At.Start <= found.At.End-found.At.Start) {
			found = s
		}
	})
	return found
}
