package refit

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// maxActs is how many acts a step has at most: whoever is called away finds the place again (ASD-STE100 5.2, by restatement).
const maxActs = 3

// Stage is a refitting stage as it is written.
type Stage struct {
	Text      string // from its heading to its last line; empty where nothing is due
	Steps     int
	Questions int
}

// step is one step being written.
type step struct {
	scope     string // for whom, and on which condition: what stands before its acts
	sentences []string
	questions []string
	acts      int
	class     class
}

// class tells what kind of work a step does: steps are not mixed.
type class int

const (
	none class = iota
	fitting
	fastening
	byName
	filling
	givingBack
	looking
)

// writer is a stage underway.
type writer struct {
	p      *procedure.Procedure
	tools  toolbox
	coated map[*procedure.Supply]bool
	due    []*op
	asks   []string // about the job as a whole
	steps  []step
}

// Loose is what a first writing leaves open, as the findings of a compile of it tell.
type Loose struct {
	Idle     []string // the tags of what is declared and stands in no step: the stage asks what it is for
	Untested bool     // nothing is looked at behind the last filling or giving back
}

// Write gives the stage that a procedure lacks by its plays.
func Write(p *procedure.Procedure, plays []assembly.Play, open Loose) Stage {
	w := &writer{p: p, tools: toolbox{p}, coated: map[*procedure.Supply]bool{}}
	w.due, w.asks = plan(p, plays)
	if len(w.due)+len(w.asks) == 0 {
		return Stage{}
	}
	for i := 0; i < len(w.due); {
		i += w.next(w.due[i:])
	}
	w.look(open.Untested)
	return w.print(open.Idle)
}

// next writes the first of some acts, with those behind it that go with it, and gives how many they were.
func (w *writer) next(list []*op) int {
	x := list[0]
	n := 1
	switch x.Kind {
	case assembly.DueFit, assembly.DueChange:
		if !x.Part.Fastener() || x.Kind == assembly.DueChange {
			w.fit(x)
			break
		}
		for n < len(list) && w.together(x, list[n]) {
			n++
		}
		w.fasten(list[:n])
	case assembly.DueTighten:
		for n < len(list) && w.together(x, list[n]) && sameTorque(x.Part, list[n].Part) && w.sameTools(x, list[n]) {
			n++
		}
		w.tighten(list[:n])
	case assembly.DueFill:
		w.fill(x)
	case assembly.DueRestore:
		for n < len(list) && list[n].Kind == assembly.DueRestore && sameScope(x, list[n]) {
			n++
		}
		w.restore(list[:n])
	default:
		w.byName(x)
	}
	return n
}

// together tells whether two fasteners are handled in one act: they hold one part.
func (w *writer) together(x, y *op) bool {
	return x.Kind == y.Kind && sameScope(x, y) && companions(x.Part, y.Part) && settled(x.Part) == settled(y.Part)
}

// sameTools tells whether two fasteners get the same torque by the same tools.
func (w *writer) sameTools(x, y *op) bool {
	with := func(z *op) string {
		tools, _ := w.tools.forTorque(z.Part, z.Part.Torque.Value, z.Act)
		return value(z) + w.tools.with(tools)
	}
	return with(x) == with(y)
}

func sameScope(x, y *op) bool { return x.scope() == y.scope() }

// scope is what stands before the acts of a step: "{For RW60}: ", "{If the ring is scored}, ". What a condition brought about is
// put right on the same condition.
func (x *op) scope() string {
	words := ""
	if len(x.variants) > 0 {
		words = "{For " + strings.Join(x.variants, ", ") + "}: "
	}
	if x.Act == nil {
		return words
	}
	for s := x.Act.Step; s != nil; s = s.Parent {
		if s.If.Set() {
			return words + "{If " + s.If.Value + "}, "
		}
	}
	return words
}

// fresh begins a step of its own, unless the one at hand has room and is no more than fits a part or two.
func (w *writer) fresh(scope string) *step {
	if n := len(w.steps); n > 0 && w.steps[n-1].class == fitting && w.steps[n-1].acts < maxActs-1 {
		return w.open(fastening, scope, 1, fitting)
	}
	w.steps = append(w.steps, step{scope: scope, class: fastening, acts: 1})
	return &w.steps[len(w.steps)-1]
}

// open gives the step to write an act into: the one at hand where it does the same kind of work and has room.
func (w *writer) open(c class, scope string, acts int, goesWith ...class) *step {
	if n := len(w.steps); n > 0 {
		s := &w.steps[n-1]
		if (s.class == c || slices.Contains(goesWith, s.class)) && s.scope == scope && s.acts+acts <= maxActs && len(s.questions) == 0 {
			s.class = c
			s.acts += acts
			return s
		}
	}
	w.steps = append(w.steps, step{scope: scope, class: c, acts: acts})
	return &w.steps[len(w.steps)-1]
}

func (s *step) say(format string, a ...any) {
	s.sentences = append(s.sentences, fmt.Sprintf(format, a...))
}

func (s *step) ask(format string, a ...any) {
	s.questions = append(s.questions, fmt.Sprintf(format, a...))
}

// fit puts on what is not tightened.
func (w *writer) fit(x *op) {
	with := ""
	if x.Part.Hardware.Mass != nil { // a gasket comes off in the sentence of its cover, and needs no hoist
		with = w.tools.with(only(w.tools.usedFor(x.Act), lifts))
	}
	if x.Kind == assembly.DueChange {
		s := w.open(fitting, x.scope(), 1)
		if x.Part.Fastener() {
			with = w.tools.with(w.tools.turner(x.Part, nil))
		}
		if c, ok := w.coat(x.Part); ok {
			s.say("Coat the threads with %s.", c)
		}
		x.New = false
		s.say("{Replace %s}%s.", x.object(), with)
		return
	}
	w.open(fitting, x.scope(), 1).say("{Install %s}%s.", x.object(), with)
}

// fill puts a fluid in, through what the table says that it goes in by.
func (w *writer) fill(x *op) {
	name := x.Supply.Name.Value
	var plug *procedure.Part
	for _, p := range w.p.Parts {
		for _, r := range p.Places {
			due := slices.ContainsFunc(w.due, func(y *op) bool { return y.Part != nil && y.Part.Name.Value == p.Name.Value })
			if r.Kind == procedure.Fills && r.Supply == x.Supply && !due && p.Qty == 1 && len(p.Variants) == 0 && p.Use == procedure.Reuse {
				plug = p
			}
		}
	}
	if plug == nil {
		w.open(filling, x.scope(), 1).say("{Fill the %s}.", name)
	} else {
		w.through(x, plug)
	}
	w.steps[len(w.steps)-1].ask("how is the level of the %s checked, and within which limits?", name)
}

// through fills by a plug that is on: it comes out, and goes back.
func (w *writer) through(x *op, plug *procedure.Part) {
	s := w.open(filling, x.scope(), 3)
	turner := w.tools.with(w.tools.turner(plug, nil))
	s.say("{Remove the %s}%s. {Fill the %s}.", plug.Name.Value, turner, x.Supply.Name.Value)
	o := &op{Due: assembly.Due{Kind: assembly.DueFit, Part: plug, N: 1, Name: procedure.Fold(plug.Name.Value)}, variants: x.variants}
	if !plug.Fastener() {
		s.say("{Install the %s}.", plug.Name.Value)
		return
	}
	s.say("{Install the %s}%s.", plug.Name.Value, settled(plug))
	if !plug.Torque.HandTight {
		w.tighten([]*op{o})
	}
}

// byName brings back what goes by name.
func (w *writer) byName(x *op) {
	switch x.Kind {
	case assembly.DueBleed:
		w.open(byName, x.scope(), 1).say("{Bleed the %s} until no air comes.", x.Typed)
	case assembly.DueAwait:
		w.open(byName, x.scope(), 1).say("{Await %s}.", x.Typed)
	case assembly.DueAlign:
		w.open(byName, x.scope(), 1, fitting).say("{Align the %s}.", x.Typed)
	default:
		var with []choice
		switch x.Verb.Pair {
		case verb.Lift:
			with = only(w.tools.usedFor(x.Act), lifts)
		case verb.Either:
			with = only(w.tools.usedFor(x.Act), hardware.Tool.Turns)
		}
		w.open(byName, x.scope(), 1).say("{%s %s}%s.", procedure.Capital(x.Verb.Name), x.thing(), w.tools.with(with))
	}
}

// restore gives the energy back, last of all work, once nobody is there.
func (w *writer) restore(list []*op) {
	var names []string
	for _, x := range list {
		names = append(names, "the "+x.Typed)
	}
	who := "everyone at work nearby"
	for _, s := range w.p.Stages {
		for _, st := range s.Steps {
			for _, a := range st.Acts {
				if a.Verb.Name == "tell" && who == "everyone at work nearby" {
					who = a.Name
				}
			}
		}
	}
	w.open(givingBack, list[0].scope(), maxActs).say("{Check nobody is at the machine}, {tell %s}, and {unlock %s}.", who, joinAnd(names))
}

// look ends the job with a look at what was filled, isolated or opened, and asks what proves it good.
func (w *writer) look(anyway bool) {
	var fluids, isolated []string
	for _, x := range w.due {
		switch x.Kind {
		case assembly.DueFill:
			fluids = append(fluids, x.Supply.Name.Value)
		case assembly.DueRestore:
			isolated = append(isolated, x.Typed)
		}
	}
	if len(fluids)+len(isolated) == 0 && !anyway {
		return
	}
	s := w.open(looking, "", 1)
	if len(fluids) > 0 {
		s.say("{Check no %s leaks out}.", strings.Join(fluids, " or "))
	} else {
		s.say("Start the machine. {Check it runs and stops without a knock}.")
	}
	s.ask("what else proves the machine fit for work, and within which limits?")
}
