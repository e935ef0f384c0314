package safety

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/reference"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// hazard is one kind of danger that an act brings with it.
type hazard struct {
	what  string // for the sentence
	words map[string]bool
	of    func(*rules.Job, *procedure.Act) (thing string, found bool)
}

// hazards lists them with the words that a message against them would have. The words are common practice, no source.
var hazards = []hazard{
	{"burns", set("fire fires flame flames flammable ignite ignites burn burns spark sparks vapour vapours vapor vapors fume fumes explode explodes explosion smoking smoke petrol gasoline diesel fuel"), flammable},
	{"can fall", set("heavy load loads falls fall falling drop drops crush crushes crushed lift lifting lifted hoist sling slings jack tip tips topple topples roll rolls suspended hung hangs hanging weight stand swing swings"), hangs},
	{"is sprung", set("spring springs sprung fly flies flying tension circlip circlips ring snap eye eyes blind blinds leap leaps"), sprung},
	{"holds energy", set("pressure pressurised stored energy spring springs sprung air steam charge charged load hydraulic jet spray sprays burst bursts live electric electrical shock shocks hot scald scalds gas vacuum falls fall drops drop crush crushes tension fly flies heavy fuel"), relieved},
}

var noneForHazard = rules.Rule{
	Name:     "safety/none-for-hazard",
	Severity: diag.Warning,
	Pinned:   true,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var w hazardWatch
		steps, passages := j.Steps(), j.Passages()
		for i := range passages {
			switch p := &passages[i]; p.Kind {
			case rules.Cautioning:
				w.unread = append(w.unread, p)
			case rules.Instructing:
				for _, a := range steps[0].Acts {
					w.act(j, a)
				}
				steps = steps[1:]
			}
		}
		return w.found
	},
}

// hazardWatch goes through a job and looks for the first act of each hazard without a message.
type hazardWatch struct {
	settled uint             // hazards, a bit each: a message stands before, or a finding was made, and the same message would mend the others
	unread  []*rules.Passage // messages that were passed, of which it was not asked yet what they are against
	found   []diag.Finding
}

func (w *hazardWatch) done() bool { return w.settled == 1<<len(hazards)-1 }

func (w *hazardWatch) act(j *rules.Job, a *procedure.Act) {
	switch a.Verb.Effect {
	case verb.Remove, verb.Install, verb.Replace, verb.Open, verb.Drain, verb.Relieve, verb.Act:
	default:
		return // it brings none of them
	}
	if a.Broken || w.done() {
		return
	}
	for i, k := range hazards {
		if w.settled&(1<<i) != 0 {
			continue
		}
		thing, found := k.of(j, a)
		if !found || w.told(i) {
			continue
		}
		w.settled |= 1 << i
		w.found = append(w.found, diag.Finding{
			At: a.At, Step: a.Step.Num(), Thing: thing,
			Message: fmt.Sprintf("%q %s, and no safety message at or before this act says so", thing, k.what),
			Do:      "put one before the step: > **WARNING** hazard. What it does. What to do about it.",
		})
	}
}

// told tells whether a message that was passed may be against a hazard. It reads them, which few jobs need.
func (w *hazardWatch) told(hazard int) bool {
	for _, p := range w.unread {
		w.settled |= hazardsIn(p.Text)
	}
	w.unread = w.unread[:0]
	return w.settled&(1<<hazard) != 0
}

// hazardsIn gives the hazards that a message may be against, a bit each.
func hazardsIn(text string) (bits uint) {
	words := hazardWords()
	for w := range wordsOf(text) {
		bits |= words[w]
	}
	return bits
}

// hazardWords are the words of all hazards.
var hazardWords = sync.OnceValue(func() map[string]uint {
	all := map[string]uint{}
	for i, k := range hazards {
		for w := range k.words {
			all[w] |= 1 << i
		}
	}
	return all
})

// flammable tells whether an act drains a liquid that burns, or opens a line of one.
func flammable(_ *rules.Job, a *procedure.Act) (string, bool) {
	switch {
	case a.Verb.Effect == verb.Drain:
		for _, o := range a.Objects {
			if o.Supply != nil && burns(procedure.Fold(o.Supply.Name.Value)) {
				return o.Supply.Name.Value, true
			}
		}
	case a.Verb.Name == "disconnect":
		for _, o := range a.Objects {
			for _, line := range []string{" hose", " line", " pipe", " tube", " union", " feed", " return"} {
				if fluid, ok := strings.CutSuffix(o.Name, line); ok && burns(fluid) {
					return o.Typed, true
				}
			}
		}
	}
	return "", false
}

func burns(fluid string) bool {
	for _, n := range reference.Flammables() {
		if fluid == n || strings.HasSuffix(fluid, " "+n) {
			return true
		}
	}
	return false
}

// heavy is the mass from which a part that is raised needs a message: checks list, 25 kg, common practice, no source.
const heavy = 25

// hangs tells whether an act raises, lifts or supports more than 25 kg, or does so by hoist; or takes a part of more than
// 25 kg off or on by hoist.
func hangs(j *rules.Job, a *procedure.Act) (string, bool) {
	lifts := a.Verb.Name == "lift" || a.Verb.Pair == verb.Lift && a.Verb.Effect == verb.Open || a.Verb.Pair == verb.Support && a.Verb.Effect == verb.Open
	moves := a.Verb.Effect == verb.Remove || a.Verb.Effect == verb.Install || a.Verb.Effect == verb.Replace
	if !lifts && !moves {
		return "", false
	}
	kg := masses.Of(j)
	over := slices.IndexFunc(a.Objects, func(o procedure.Object) bool { return o.Part != nil && kg[o.Part.Stands] > heavy })
	switch {
	case len(a.Objects) == 0 || over < 0 && !lifts:
	case lifts && hoisted(a):
		return a.Objects[0].Typed, true
	case over >= 0 && (lifts || hoisted(a)):
		return a.Objects[over].Typed, true
	}
	return "", false
}

// hoists are words in the names of tools that lift, loads words that tell of a loaded spring. Common practice, no source.
var (
	hoists = set("hoist crane jack winch block gantry tackle")
	loads  = set("loaded compression compressed tension tensioned return recoil torsion")
)

// hoisted tells whether a hoist, crane or jack works in the sentence of an act.
func hoisted(a *procedure.Act) bool {
	for _, t := range a.Step.Acts {
		if t.Tool == nil || t.Sentence != a.Sentence || t.Choice >= len(t.Tool.Choices) {
			continue
		}
		if c := &t.Tool.Choices[t.Choice]; c.Kind.Kind == hardware.Lifts {
			if name := wordList(c.Name); len(name) > 0 && hoists[name[len(name)-1]] {
				return true // a winch handle is none
			}
		}
	}
	return false
}

// masses are those of one piece of each part in kilograms, in the order of the list; 0 where it is not written.
var masses = rules.NewFact(func(j *rules.Job) []float64 {
	all := make([]float64, len(j.Proc.Parts))
	for i, p := range j.Proc.Parts {
		if p.Hardware.Mass != nil {
			all[i] = p.Hardware.Mass.Float()
		}
	}
	return all
})

// sprung tells whether an act takes out a circlip, or a spring whose name or Spec says that it is loaded.
func sprung(j *rules.Job, a *procedure.Act) (string, bool) {
	if a.Verb.Effect != verb.Remove && a.Verb.Effect != verb.Replace {
		return "", false
	}
	for i := range a.Objects {
		if p := a.Objects[i].Part; springs.Of(j).Has(p) {
			return p.Name.Value, true
		}
	}
	return "", false
}

// springs are the parts that may fly when they come out.
var springs = rules.NewFact(func(j *rules.Job) rules.Parts {
	all := j.NoParts()
	for _, p := range j.Proc.Parts {
		name := procedure.Fold(p.Name.Value)
		loaded := ends(name, "spring") && hasAny(p.Name.Value+" "+p.Spec.Value, loads)
		if loaded || ends(name, "circlip") || ends(name, "snap ring") {
			all.Add(p)
		}
	}
	return all
})

// ends tells whether a name ends in some words.
func ends(name, words string) bool {
	before, ok := strings.CutSuffix(name, words)
	return ok && (before == "" || strings.HasSuffix(before, " "))
}

// relieved tells whether an act lets energy out.
func relieved(_ *rules.Job, a *procedure.Act) (string, bool) {
	if a.Verb.Effect != verb.Relieve || len(a.Objects) == 0 {
		return "", false
	}
	return a.Objects[0].Typed, true
}
