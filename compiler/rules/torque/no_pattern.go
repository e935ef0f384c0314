package torque

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var noPattern = rules.Rule{
	Name:     "torque/no-pattern",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		if !slices.ContainsFunc(j.Doing(verb.DoTorque), func(a *procedure.Act) bool { return a.Order == "" }) {
			return nil
		}
		given := patterns{}
		for _, a := range j.StepActs() {
			given.take(a)
			if a.Verb.Effect != verb.DoTorque || a.Broken || a.Order != "" {
				continue
			}
			if a.Torque.Value == nil && a.Torque.Angle != nil {
				continue // an angle alone: the order stands where the torque was given
			}
			for i := range a.Objects {
				o := &a.Objects[i]
				if p := o.Part; p != nil && !given.covers(p, a.Step) && handled(j, a, o) >= 4*held(p) && handled(j, a, o) >= 4 && len(p.Places) > 0 && !laidOut(j, p) {
					all = append(all, diag.Finding{
						At: o.At, Step: a.Step.Num(), Thing: p.Name.Value,
						Message: fmt.Sprintf("%s are torqued, and no order is given", procedure.CountName(handled(j, a, o), p.Name.Value)),
						Do:      "write \"crosswise\", \"from the centre\" or \"in order\" in the braces, or draw a layout",
					})
				}
			}
		}
		return all
	},
}

// patterns keeps, by part, the steps that gave an order to its torque since it last came off: a second pull, such as the angle
// behind the torque, follows the first one's order.
type patterns map[*procedure.Part][]*procedure.Step

func (given patterns) take(a *procedure.Act) {
	off, ordered := a.Verb.Effect == verb.Remove, a.Verb.Effect == verb.DoTorque && a.Order != ""
	if !off && !ordered {
		return
	}
	for i := range a.Objects {
		switch p := a.Objects[i].Part; {
		case p == nil:
		case off:
			delete(given, p)
		default:
			given[p] = append(given[p], a.Step)
		}
	}
}

// covers tells whether an order was given in every variant that does the step at hand.
func (given patterns) covers(p *procedure.Part, at *procedure.Step) bool {
	for _, s := range given[p] {
		done := variantsOf(s)
		all := len(done) == 0
		if here := variantsOf(at); !all && len(here) > 0 {
			all = true
			for _, v := range here {
				all = all && slices.Contains(done, v)
			}
		}
		if all {
			return true
		}
	}
	return false
}

// variantsOf gives the variants that a step is done for, its own or those of the step that holds it; none is all.
func variantsOf(s *procedure.Step) []string {
	for ; s != nil; s = s.Parent {
		var names []string
		for _, t := range s.For {
			names = append(names, t.Value)
		}
		if len(names) > 0 {
			return names
		}
	}
	return nil
}
