package tool

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var noneFits = rules.Rule{
	Name:     "tool/none-fits",
	Severity: diag.Warning,
	Waivable: true,
	Pinned:   true,
	Check:    func(j *rules.Job) []diag.Finding { return slices.Clone(unfitted.Of(j)) },
}

// unfitted are the findings of noneFits, which another check asks for too.
var unfitted = rules.NewFact(func(j *rules.Job) []diag.Finding {
	if broken(j) {
		return nil
	}
	told := j.NoParts()
	for _, m := range mismatches.Of(j) {
		told.Add(m.part)
	}
	var all []diag.Finding
	kit := stageKit{tried: make([]fit, len(j.Proc.Parts))}
	steps, needs := j.Steps(), lookedUp.Of(j)
	for i := range steps {
		s := &steps[i]
		if i == 0 || s.Stage != kit.stage {
			kit.take(s.Stage)
		}
		if s.Misread {
			continue
		}
		turns := false
		for _, a := range s.Acts {
			if !firmly(a.Verb.Effect) {
				continue
			}
			for k := range a.Objects {
				o := &a.Objects[k]
				p := o.Part
				if p == nil || !p.Fastener() || told.Has(p) || p.Torque.HandTight {
					continue
				}
				if n := needs.of(p); len(n.takes) == 0 || kit.turns(n, p) || !turns && byHand(s) {
					continue
				}
				turns = true
				told.Add(p)
				if j.Muted(p.Name.Value) {
					continue
				}
				all = append(all, noTool(j, s, o))
			}
		}
	}
	return rules.Once(all, func(f diag.Finding) string { // one tool that is missing in a step shows at all that it turns
		_, takes, _ := strings.Cut(f.Message, ": that takes")
		return fmt.Sprint(f.Step, takes)
	})
})

func noTool(j *rules.Job, s *rules.Step, o *procedure.Object) diag.Finding {
	p, n := o.Part, lookedUp.Of(j).of(o.Part)
	return diag.Finding{
		At: o.At, Step: s.Num(), Thing: p.Name.Value,
		Message: fmt.Sprintf("no tool here turns %s, %s: that takes %s", rules.Quote(p.Name.Value), p.Spec.Value, hardware.Sizes(n.takes)),
		Do:      "name the tool in the step: with the {tool …}" + atHand(j, n),
	}
}

// stageKit is the tools that a stage names and that turn something.
type stageKit struct {
	stage *procedure.Stage
	tools []named // each once
	tried []fit   // the fasteners that were held against them, in the order of the list
}

// fit tells whether one of the tools may turn a fastener.
type fit int8

const (
	untried fit = iota
	mayTurn
	noneTurns
)

// take goes over to the tools of a stage.
func (k *stageKit) take(stage *procedure.Stage) {
	k.stage, k.tools = stage, k.tools[:0]
	clear(k.tried)
	if stage == nil {
		return
	}
	stage.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			if takesATool(a) && len(k.tools) <= 5*crowded && !k.has(a) {
				k.tools = append(k.tools, named{a, &a.Tool.Choices[a.Choice]})
			}
		}
	})
}

func (k *stageKit) has(a *procedure.Act) bool {
	return slices.ContainsFunc(k.tools, func(n named) bool { return n.act.Tool == a.Tool && n.act.Choice == a.Choice })
}

// turns tells whether one of the tools may turn a fastener, or nobody could say because there are too many.
func (k *stageKit) turns(n *need, p *procedure.Part) bool {
	if len(k.tools) > 5*crowded {
		return true
	}
	if k.tried[p.Stands] == untried {
		k.tried[p.Stands] = noneTurns
		if slices.ContainsFunc(k.tools, func(t named) bool { return !n.ruledOut(t) }) {
			k.tried[p.Stands] = mayTurn
		}
	}
	return k.tried[p.Stands] == mayTurn
}

// unturned tells whether a finding of a step without a tool is about a fastener that this one turns: it is the tool that is
// missing there.
func unturned(j *rules.Job, t *procedure.Tool) bool {
	for _, f := range unfitted.Of(j) {
		for _, p := range j.Proc.Parts {
			if p.Name.Value != f.Thing {
				continue
			}
			for _, c := range t.Choices {
				if n := lookedUp.Of(j).of(p); c.Kind.FitsAny(n.takes, n.complete) == hardware.DoesFit {
					return true
				}
			}
		}
	}
	return false
}

// atHand names a listed tool that does fit.
func atHand(j *rules.Job, n *need) string {
	for _, t := range j.Proc.Tools {
		for _, c := range t.Choices {
			if c.Kind.FitsAny(n.takes, n.complete) == hardware.DoesFit {
				return ", such as the " + c.Name + " of the list"
			}
		}
	}
	return ", and add it to the tools"
}
