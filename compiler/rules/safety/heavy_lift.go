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
		told := map[*procedure.Part]bool{}
		j.EachStep(func(s *procedure.Step) {
			for _, a := range s.Acts {
				if !bears(a) || a.Broken {
					continue
				}
				for _, o := range a.Objects {
					if o.Part == nil || o.Part.Hardware.Mass == nil || told[o.Part] {
						continue
					}
					if why, over := tooHeavy(j, a, o.Part); over && !helped(j, a) {
						told[o.Part] = true
						all = append(all, diag.Finding{
							At: a.At, Step: s.Number, Thing: o.Part.Name.Value,
							Message: fmt.Sprintf("the %s is %s, and one person lifts it: %s", o.Part.Name.Value, o.Part.Hardware.Mass.Running(), why),
							Do:      "list a hoist and name it here, or write \"people: 2\" in the front matter",
						})
					}
				}
			}
		})
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
	mass := kilograms(p)
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
var lifting = rules.NewToolKind(func(c procedure.Choice) bool { return c.Kind.Kind == hardware.Lifts })

// helped tells whether something bears the load: a lifting tool of the step or stage, a support of the same thing, or words
// that name a hoist or a helper.
func helped(j *rules.Job, a *procedure.Act) bool {
	if len(lifting.Bound(j, a)) > 0 {
		return true
	}
	if hasAny(procedure.RunText(a.Step.Runs), helping) {
		return true
	}
	held := false
	j.EachAct(func(s *procedure.Act) {
		if s.Verb.Pair != verb.Support || s.Verb.Effect != verb.Open {
			return
		}
		for _, o := range s.Objects {
			for _, x := range a.Objects {
				held = held || o.Name == x.Name
			}
		}
	})
	return held
}
