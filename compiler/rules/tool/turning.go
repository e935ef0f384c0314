package tool

import (
	"slices"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// named is a tag of a tool with the side of its "or" that it names.
type named struct {
	act    *procedure.Act
	choice procedure.Choice
}

// toolsOf collects the tool tags among some acts that a test takes.
func toolsOf(acts []*procedure.Act, takes func(hardware.Tool) bool) []named {
	var all []named
	for _, a := range acts {
		if a.Tool == nil || a.Broken || a.Choice >= len(a.Tool.Choices) {
			continue
		}
		if c := a.Tool.Choices[a.Choice]; takes(c.Kind) {
			all = append(all, named{a, c})
		}
	}
	return all
}

func turningTool(t hardware.Tool) bool { return t.Turns() }

// sentence gives the acts of one sentence of a step.
func sentence(s *procedure.Step, n int) []*procedure.Act {
	var all []*procedure.Act
	for _, a := range s.Acts {
		if a.Sentence == n {
			all = append(all, a)
		}
	}
	return all
}

// stageActs gives all acts of a stage, those of sub-steps too.
func stageActs(stage *procedure.Stage) []*procedure.Act {
	var all []*procedure.Act
	var walk func([]*procedure.Step)
	walk = func(steps []*procedure.Step) {
		for _, s := range steps {
			all = append(all, s.Acts...)
			walk(s.Steps)
		}
	}
	if stage != nil {
		walk(stage.Steps)
	}
	return all
}

// turned is a fastener that an act turns.
type turned struct {
	act    *procedure.Act
	object *procedure.Object
	part   *procedure.Part
}

// turnedBy lists the parts with a thread that some acts turn by the effects given.
func turnedBy(acts []*procedure.Act, effects ...verb.Effect) []turned {
	var all []turned
	for _, a := range acts {
		if a.Broken || !slices.Contains(effects, a.Verb.Effect) {
			continue
		}
		for i := range a.Objects {
			if p := a.Objects[i].Part; p != nil && p.Fastener() {
				all = append(all, turned{a, &a.Objects[i], p})
			}
		}
	}
	return all
}

// anyTurn lists the effects for which a tool may be taken to a fastener, firmly those for which one has to be.
func anyTurn() []verb.Effect {
	return []verb.Effect{verb.Remove, verb.Install, verb.Replace, verb.Loosen, verb.Tighten, verb.Snug, verb.DoTorque}
}

func firmly() []verb.Effect {
	return []verb.Effect{verb.Remove, verb.Loosen, verb.Tighten, verb.DoTorque}
}

func fastener(p *procedure.Part) hardware.Fastener {
	return hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware}
}

// misread tells whether a tag in the step could not be read: a tool may have been meant there.
func misread(s *procedure.Step) bool {
	return slices.ContainsFunc(s.Acts, func(a *procedure.Act) bool { return a.Broken })
}

// byHand tells whether the step says that no tool is needed.
func byHand(s *procedure.Step) bool {
	low := strings.ToLower(procedure.RunText(s.Runs))
	return slices.ContainsFunc([]string{"by hand", "finger", "hand-tight", "fingers"}, func(w string) bool { return strings.Contains(low, w) })
}

// mismatch is a fastener that no tool of its sentence turns, with the tool that turns nothing in its step.
type mismatch struct {
	turned
	tool   named
	reason string // the sizes that do, with their standards
}

// mismatches lists them, each tool tag once.
func mismatches(j *rules.Job) []mismatch {
	var all []mismatch
	j.EachStep(func(s *procedure.Step) {
		if misread(s) || len(s.Acts) == 0 {
			return
		}
		inStep := turnedBy(s.Acts, anyTurn()...)
		told := map[*procedure.Act]bool{}
		for n := 0; n <= s.Acts[len(s.Acts)-1].Sentence; n++ {
			acts := sentence(s, n)
			tools := toolsOf(acts, turningTool)
			for _, t := range turnedBy(acts, anyTurn()...) {
				if j.Muted(t.part.Name.Value) {
					continue
				}
				if useless, reason, found := noneTurns(tools, t.part, inStep); found && !told[useless.act] {
					told[useless.act] = true
					all = append(all, mismatch{t, useless, reason})
				}
			}
		}
	})
	return all
}

// noneTurns tells whether certainly none of the tools turns the part, and gives the one that turns nothing else either.
func noneTurns(tools []named, p *procedure.Part, inStep []turned) (useless named, reason string, found bool) {
	for _, t := range tools {
		fit, why := t.choice.Kind.Fits(fastener(p))
		if fit != hardware.DoesNotFit {
			return named{}, "", false
		}
		elsewhere := slices.ContainsFunc(inStep, func(x turned) bool {
			fit, _ := t.choice.Kind.Fits(fastener(x.part))
			return fit != hardware.DoesNotFit
		})
		if !elsewhere && !found {
			useless, reason, found = t, why, true
		}
	}
	return useless, reason, found
}
