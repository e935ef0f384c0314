package tool

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var rating = rules.Rule{
	Name:     "tool/rating",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		if !slices.ContainsFunc(j.Proc.Tools, isRated) {
			return nil
		}
		steps := j.Steps()
		var tools []named
		for i := range steps {
			s := &steps[i]
			if s.Misread || !s.Tooled {
				continue
			}
			for acts, rest := sentence(s.Acts); ; acts, rest = sentence(rest) {
				tools = appendTools(tools[:0], acts, func(k *hardware.Tool) bool { return k.Load != nil })
				var heavy *procedure.Part
				if len(tools) > 0 {
					heavy = heaviest(acts)
				}
				for _, t := range tools {
					if heavy == nil {
						break
					}
					if quantity.Cmp(*t.choice.Kind.Load, *heavy.Hardware.Mass) >= 0 || shared(j, t) || j.Muted(heavy.Name.Value) {
						continue
					}
					f := diag.Finding{
						At: t.act.At, Step: s.Num(), Thing: heavy.Name.Value,
						Message: fmt.Sprintf("the %s bears %s, and %s is %s", t.choice.Name, t.choice.Kind.Load.Running(),
							rules.Quote(heavy.Name.Value), heavy.Hardware.Mass.Running()),
						Do: "list one that bears " + heavy.Hardware.Mass.Running() + " or more",
					}
					f.Related = append(f.Related, source.Related{At: heavy.Spec.At, Words: "the Spec"})
					all = append(all, f)
				}
				if len(rest) == 0 {
					break
				}
			}
		}
		// One weak hoist in the list is one slip, however often it lifts the part.
		return rules.Once(all, func(f diag.Finding) string { return f.Thing + "\x00" + rules.Said(f) })
	},
}

// isRated tells whether a tool says what it bears.
func isRated(t *procedure.Tool) bool {
	return slices.ContainsFunc(t.Choices, func(c procedure.Choice) bool { return c.Kind.Load != nil })
}

// heaviest is the heaviest part that some acts move.
func heaviest(acts []*procedure.Act) *procedure.Part {
	var most *procedure.Part
	for _, a := range acts {
		moves := slices.Contains([]verb.Effect{verb.Remove, verb.Install, verb.Replace, verb.Open, verb.Close}, a.Verb.Effect) || a.Verb.Name == "lift"
		if a.Broken || !moves || a.Verb.Effect == verb.Open && a.Verb.Pair != verb.Lift && a.Verb.Pair != verb.Support {
			continue
		}
		for _, o := range a.Objects {
			if p := o.Part; p != nil && p.Hardware.Mass != nil && (most == nil || quantity.Cmp(*p.Hardware.Mass, *most.Hardware.Mass) > 0) {
				most = p
			}
		}
	}
	return most
}

// shared tells whether several of the tool bear the load together: then its share is not known.
func shared(j *rules.Job, t named) bool {
	words := " " + procedure.Fold(t.act.Words+" "+t.choice.Name+" "+t.choice.Detail) + " "
	if slices.ContainsFunc([]string{" two ", " both ", " pair ", " four ", " each ", " 2 off ", " three "}, func(w string) bool { return strings.Contains(words, w) }) {
		return true
	}
	last := t.choice.Name[strings.LastIndexByte(t.choice.Name, ' ')+1:]
	if strings.HasSuffix(last, "s") && !strings.HasSuffix(last, "ss") {
		return true // "slings", "axle stands"
	}
	return strings.Contains(strings.ToLower(j.StepOf(t.act.Step).Text), "second "+strings.ToLower(t.choice.Name))
}
