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

// sentences groups the acts of a step by the sentence that they stand in.
func sentences(s *procedure.Step) [][]*procedure.Act {
	var all [][]*procedure.Act
	for i, a := range s.Acts {
		if i == 0 || a.Sentence != s.Acts[i-1].Sentence {
			all = append(all, nil)
		}
		all[len(all)-1] = append(all[len(all)-1], a)
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

// misread tells whether a tag in the step could not be read: a tool may have been meant there.
func misread(s *procedure.Step) bool {
	return slices.ContainsFunc(s.Acts, func(a *procedure.Act) bool { return a.Broken })
}

// byHand tells whether the step says that no tool is needed.
func byHand(s *procedure.Step) bool {
	low := strings.ToLower(procedure.RunText(s.Runs))
	return slices.ContainsFunc([]string{"by hand", "finger", "hand-tight", "fingers"}, func(w string) bool { return strings.Contains(low, w) })
}

// heldOrDriven lists words of a step in which a wrench may hold a shaft, or a socket may drive a seal in.
var heldOrDriven = []string{
	"hold", "holds", "holding", "held", "steady", "counter", "brace", "drift", "drive", "drives", "driven", "tap", "knock", "press", "lever", "pry", "wedge",
}

// otherwiseUsed tells whether the step speaks of such a use.
func otherwiseUsed(s *procedure.Step) bool {
	return slices.ContainsFunc(strings.Fields(procedure.Fold(procedure.RunText(s.Runs))), func(w string) bool {
		return slices.Contains(heldOrDriven, strings.Trim(w, ".,;:()"))
	})
}

// mismatch is a fastener that no tool of its sentence turns, with the tool that turns nothing in its step.
type mismatch struct {
	turned
	tool   named
	reason string // the sizes that do, with their standards
}

// crowded is how many fasteners of a step, or tools of a sentence, are still looked at one by one: beyond it nobody could say
// which tool is for what.
const crowded = 40

// mismatches lists them, each tool tag once.
var mismatches = rules.NewFact(func(j *rules.Job) []mismatch {
	var all []mismatch
	j.EachStep(func(s *procedure.Step) {
		if misread(s) || !slices.ContainsFunc(s.Acts, takesATool) {
			return
		}
		needs := needsOf(j, s)
		if len(needs) == 0 || len(needs) > crowded || otherwiseUsed(s) {
			return
		}
		told := map[*procedure.Act]bool{}
		for _, acts := range sentences(s) {
			tools := toolsOf(acts, turningTool)
			if len(tools) == 0 || len(tools) > crowded {
				continue
			}
			for _, t := range turnedBy(acts, anyTurn()...) {
				if useless, found := noneTurns(tools, needs[t.part], needs); found && !told[useless.act] && !j.Muted(t.part.Name.Value) {
					told[useless.act] = true
					all = append(all, mismatch{t, useless, hardware.Sizes(needs[t.part].takes)})
				}
			}
		}
	})
	return all
})

// takesATool tells whether a tag names a tool that turns something.
func takesATool(a *procedure.Act) bool {
	return a.Tool != nil && !a.Broken && a.Choice < len(a.Tool.Choices) && a.Tool.Choices[a.Choice].Kind.Turns()
}

// need is what turns a fastener.
type need struct {
	takes    []hardware.Fitting
	complete bool
}

func needOf(j *rules.Job, p *procedure.Part) need {
	known := lookedUp.Of(j)
	n, ok := known[p]
	if !ok {
		n.takes, n.complete = hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware}.Takes()
		known[p] = n
	}
	return n
}

// lookedUp keeps what was looked up for each part.
var lookedUp = rules.NewFact(func(*rules.Job) map[*procedure.Part]need { return map[*procedure.Part]need{} })

// ruledOut tells whether a tool certainly does not turn it.
func (n need) ruledOut(t named) bool {
	return t.choice.Kind.FitsAny(n.takes, n.complete) == hardware.DoesNotFit
}

// needsOf looks up what turns each fastener that a step turns.
func needsOf(j *rules.Job, s *procedure.Step) map[*procedure.Part]need {
	all := map[*procedure.Part]need{}
	for _, t := range turnedBy(s.Acts, anyTurn()...) {
		all[t.part] = needOf(j, t.part)
	}
	return all
}

// noneTurns tells whether certainly none of the tools turns a fastener, and gives the one that turns nothing else in the step
// either.
func noneTurns(tools []named, mine need, inStep map[*procedure.Part]need) (useless named, found bool) {
	for _, t := range tools {
		if !mine.ruledOut(t) {
			return named{}, false
		}
	}
	for _, t := range tools {
		elsewhere := false
		for _, other := range inStep {
			elsewhere = elsewhere || !other.ruledOut(t)
		}
		if !elsewhere {
			return t, true
		}
	}
	return named{}, false
}
