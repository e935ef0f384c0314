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
	choice *procedure.Choice
}

// appendTools collects the tool tags among some acts that a test takes.
func appendTools(all []named, acts []*procedure.Act, takes func(*hardware.Tool) bool) []named {
	for _, a := range acts {
		if a.Tool == nil || a.Broken || a.Choice >= len(a.Tool.Choices) {
			continue
		}
		if c := &a.Tool.Choices[a.Choice]; takes(&c.Kind) {
			all = append(all, named{a, c})
		}
	}
	return all
}

func turningTool(t *hardware.Tool) bool { return t.Turns() }

// sentence gives the first of some acts, up to the end of the sentence that they stand in, and the others.
func sentence(acts []*procedure.Act) (first, rest []*procedure.Act) {
	n := 1
	for n < len(acts) && acts[n].Sentence == acts[0].Sentence {
		n++
	}
	return acts[:n], acts[n:]
}

// turned is a fastener that an act turns.
type turned struct {
	act    *procedure.Act
	object *procedure.Object
	part   *procedure.Part
}

// appendTurned collects the parts with a thread that some acts turn by effects that a test takes.
func appendTurned(all []turned, acts []*procedure.Act, takes func(verb.Effect) bool) []turned {
	for _, a := range acts {
		if a.Broken || !takes(a.Verb.Effect) {
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

// anyTurn takes the effects for which a tool may be taken to a fastener, firmly those for which one has to be.
func anyTurn(e verb.Effect) bool {
	return firmly(e) || e == verb.Install || e == verb.Replace || e == verb.Snug
}

func firmly(e verb.Effect) bool {
	return e == verb.Remove || e == verb.Loosen || e == verb.Tighten || e == verb.DoTorque
}

// handWords say that no tool is needed.
var (
	handWords   = []string{"by hand", "finger", "hand-tight", "fingers"}
	handPhrases = rules.NewPhrases(handWords...)
)

// byHand tells whether the step says so.
func byHand(s *rules.Step) bool {
	if !handPhrases.MayBeIn(s.Passage) {
		return false
	}
	low := strings.ToLower(s.Text)
	return slices.ContainsFunc(handWords, func(w string) bool { return strings.Contains(low, w) })
}

// heldOrDriven lists words of a step in which a wrench may hold a shaft, or a socket may drive a seal in.
var (
	heldOrDriven = []string{
		"hold", "holds", "holding", "held", "steady", "counter", "brace", "drift", "drive", "drives", "driven", "tap", "knock", "press", "lever", "pry", "wedge",
	}
	heldPhrases = rules.NewPhrases(heldOrDriven...)
)

// otherwiseUsed tells whether the step speaks of such a use.
func otherwiseUsed(s *rules.Step) bool {
	return heldPhrases.MayBeIn(s.Passage) && slices.ContainsFunc(strings.Fields(procedure.Fold(s.Text)), func(w string) bool {
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
	steps, needs := j.Steps(), lookedUp.Of(j)
	for i := range steps {
		s := &steps[i]
		if s.Misread || !s.Tooled || !misfit.On(j, s.Passage) {
			continue
		}
		var told []*procedure.Act
		needs.eachMisfit(s.Acts, func(t turned, useless named) {
			if !slices.Contains(told, useless.act) && !j.Muted(t.part.Name.Value) && !otherwiseUsed(s) {
				told = append(told, useless.act)
				all = append(all, mismatch{t, useless, hardware.Sizes(needs.of(t.part).takes)})
			}
		})
	}
	return all
})

// misfit marks the steps that have one: few do.
var misfit = rules.NewMark(func(j *rules.Job, p *rules.Passage) (found bool) {
	lookedUp.Of(j).eachMisfit(p.Of.Acts, func(turned, named) { found = true })
	return found
})

// eachMisfit visits the fasteners of a step that no tool of their sentence turns, with a tool that turns nothing in the step.
func (l *needs) eachMisfit(acts []*procedure.Act, visit func(turned, named)) {
	if !slices.ContainsFunc(acts, takesATool) {
		return
	}
	l.inStep = appendTurned(l.inStep[:0], acts, anyTurn)
	if len(l.inStep) == 0 || several(l.inStep) {
		return
	}
	for acts, rest := sentence(acts); ; acts, rest = sentence(rest) {
		l.tools = appendTools(l.tools[:0], acts, turningTool)
		if len(l.tools) > 0 && len(l.tools) <= crowded {
			l.inSentence = appendTurned(l.inSentence[:0], acts, anyTurn)
			for _, t := range l.inSentence {
				if useless, found := l.noneTurns(l.tools, t.part, l.inStep); found {
					visit(t, useless)
				}
			}
		}
		if len(rest) == 0 {
			return
		}
	}
}

// several tells whether more than crowded fasteners are turned.
func several(turns []turned) bool {
	if len(turns) <= crowded {
		return false
	}
	seen := map[*procedure.Part]bool{}
	for _, t := range turns {
		seen[t.part] = true
	}
	return len(seen) > crowded
}

// takesATool tells whether a tag names a tool that turns something.
func takesATool(a *procedure.Act) bool {
	return a.Tool != nil && !a.Broken && a.Choice < len(a.Tool.Choices) && a.Tool.Choices[a.Choice].Kind.Turns()
}

// need is what turns a fastener.
type need struct {
	takes    []hardware.Fitting
	complete bool
	known    bool
}

// needs keeps what was looked up for each part.
type needs struct {
	parts              []need // in the order of the list
	inStep, inSentence []turned
	tools              []named
}

var lookedUp = rules.NewFact(func(j *rules.Job) *needs { return &needs{parts: make([]need, len(j.Proc.Parts))} })

func (l *needs) of(p *procedure.Part) *need {
	n := &l.parts[p.Stands]
	if !n.known {
		n.takes, n.complete = hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware}.Takes()
		n.known = true
	}
	return n
}

// ruledOut tells whether a tool certainly does not turn it.
func (n *need) ruledOut(t named) bool {
	return t.choice.Kind.FitsAny(n.takes, n.complete) == hardware.DoesNotFit
}

// noneTurns tells whether certainly none of the tools turns a fastener, and gives the one that turns nothing else in the step
// either.
func (l *needs) noneTurns(tools []named, mine *procedure.Part, inStep []turned) (useless named, found bool) {
	for _, t := range tools {
		if !l.of(mine).ruledOut(t) {
			return named{}, false
		}
	}
	for _, t := range tools {
		if !slices.ContainsFunc(inStep, func(other turned) bool { return !l.of(other.part).ruledOut(t) }) {
			return t, true
		}
	}
	return named{}, false
}
