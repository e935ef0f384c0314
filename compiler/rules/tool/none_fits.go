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
	var kit stageKit
	steps, needs := j.Steps(), lookedUp.Of(j)
	for i := range steps {
		s := &steps[i]
		if i == 0 || s.Stage != kit.stage {
			kit = kitOf(j, s.Stage)
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
	tools []named     // each once
	tried rules.Parts // the fasteners that were held against them
	turn  rules.Parts // and those that one of them may turn
}

func kitOf(j *rules.Job, stage *procedure.Stage) stageKit {
	kit := stageKit{stage: stage, tried: j.NoParts(), turn: j.NoParts()}
	if stage == nil {
		return kit
	}
	var all []named
	stage.EachStep(func(s *procedure.Step) { all = appendTools(all, s.Acts, turningTool) })
	kit.tools = distinct(all)
	return kit
}

// turns tells whether one of the tools may turn a fastener, or nobody could say because there are too many.
func (k *stageKit) turns(n *need, p *procedure.Part) bool {
	if len(k.tools) > 5*crowded {
		return true
	}
	if !k.tried.Has(p) {
		k.tried.Add(p)
		if slices.ContainsFunc(k.tools, func(t named) bool { return !n.ruledOut(t) }) {
			k.turn.Add(p)
		}
	}
	return k.turn.Has(p)
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

// distinct keeps the first tag of each tool.
func distinct(tools []named) []named {
	seen := map[*procedure.Tool]int{} // the choices named, one bit each
	var all []named
	for _, n := range tools {
		if bit := 1 << min(n.act.Choice, 30); seen[n.act.Tool]&bit == 0 {
			seen[n.act.Tool] |= bit
			all = append(all, n)
		}
	}
	return all
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
