package safety

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/reference"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var heavyLift = rules.Rule{
	Name:     "safety/heavy-lift",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		if j.Proc.Crew != 1 {
			return nil // two can share it, and where nobody says how many nobody knows
		}
		var all []diag.Finding
		told := j.NoParts()
		for _, a := range j.StepActs() {
			if a.Broken || !bears(a) {
				continue
			}
			for i := range a.Objects {
				p := a.Objects[i].Part
				if p == nil || p.Hardware.Mass == nil || told.Has(p) {
					continue
				}
				if why, over := tooHeavy(j, a, p); over && !helped(j, a) {
					told.Add(p)
					all = append(all, diag.Finding{
						At: a.At, Step: a.Step.Num(), Thing: p.Name.Value,
						Message: fmt.Sprintf("the %s is %s, and one person lifts it: %s", p.Name.Value, p.Hardware.Mass.Running(), why),
						Do:      "list a hoist and name it here, or write \"people: 2\" in the front matter",
					})
				}
			}
		}
		return all
	},
}

// bears tells whether somebody carries what an act moves.
func bears(a *procedure.Act) bool {
	switch a.Verb.Effect {
	case verb.Remove, verb.Install, verb.Replace:
		return true
	}
	return a.Verb.Name == "lift"
}

// tooHeavy holds a mass against the limit of the settings, or, where the tag says how it is lifted, against the equation.
func tooHeavy(j *rules.Job, a *procedure.Act, p *procedure.Part) (why string, over bool) {
	mass := masses.Of(j)[p.Stands]
	if x, ok := described(a.Detail); ok && a.Verb.Name == "lift" {
		most := limit(reference.MetricLifting(), x)
		return fmt.Sprintf("%.0f kg is the most at this reach and height (NIOSH lifting equation)", most), mass > most
	}
	if j.Settings == nil || j.Settings.Lift == nil {
		return "", false
	}
	return "the settings allow " + j.Settings.Lift.Running(), mass > j.Settings.Lift.Float()
}

// helping are words of a step in which something or somebody else bears the load. Common practice, no source.
var helping = set("hoist crane jack sling slung tackle block gantry forklift truck dolly trolley helper helpers mate second persons people two roll slide slides rolls tilt")

// lifting are the tools that lift.
var lifting = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Kind == hardware.Lifts })

// helped tells whether something bears the load: a lifting tool of the step or stage, a support of the same thing, or words
// that name a hoist or a helper.
func helped(j *rules.Job, a *procedure.Act) bool {
	if len(lifting.Bound(j, a)) > 0 {
		return true
	}
	if hasAny(j.StepOf(a.Step).Text, helping) {
		return true
	}
	for _, s := range j.Acts() {
		if s.Verb.Pair != verb.Support || s.Verb.Effect != verb.Open {
			continue
		}
		for _, o := range s.Objects {
			for _, x := range a.Objects {
				if o.Name == x.Name {
					return true
				}
			}
		}
	}
	return false
}
