package document

import (
	"fmt"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/verb"
)

// ReviewTorque is one tightening with what it does to the thread.
type ReviewTorque struct {
	Step         string
	Count        string // "12"
	What         string // "cover bolts"
	Spec         string // "M8 8.8", as far as thread and strength are written
	More         string // "crosswise in 3 passes, then 90°"
	NewtonMetres string // "22", "20–24"
	PoundFeet    string // "16"; with its unit where that is another: "84 lbf·in"
	Loads        []Load // at least, middle and most friction; empty where thread or strength are not given
	None         string // why there are no loads: "no strength given"
	Friction     string // the condition of the thread that the frictions are for: "oiled"; empty where none is stated
	Over         bool   // one of them is beyond the proof load
}

// Load is the preload of one fastener at one friction.
type Load struct {
	K       string // nut factor: "0.15"
	Preload string // kN: "18.9"
	Share   string // of the proof load: "89 %"
	Over    bool   // beyond it
}

// reviewTorques lists all torques in the order of the steps, with or without what they do to the threads.
func reviewTorques(p *procedure.Procedure, variant string, loads bool) []ReviewTorque {
	var all []ReviewTorque
	eachStep(p, variant, func(s *procedure.Step) {
		for _, a := range s.Acts {
			if a.Verb == nil || a.Verb.Effect != verb.DoTorque || a.Broken {
				continue
			}
			for i := range a.Objects {
				if o := &a.Objects[i]; o.Part != nil {
					all = append(all, torqueRows(s, a, o, variant, loads)...)
				}
			}
		}
	})
	return all
}

// torqueRows gives the row of one object of a torque act; one a variant where the part differs between them.
func torqueRows(s *procedure.Step, a *procedure.Act, o *procedure.Object, variant string, loads bool) []ReviewTorque {
	parts := []*procedure.Part{o.Part}
	if variant == "" && len(o.Part.Twins) > 1 {
		parts = o.Part.Twins
	} else if own := o.Part.For(variant); own != nil {
		parts[0] = own
	}
	var rows []ReviewTorque
	for _, part := range parts {
		row := torqueRow(s, a, o, part, loads)
		if len(parts) > 1 {
			row.What += " (" + texts(part.Variants) + ")"
		}
		rows = append(rows, row)
	}
	return rows
}

func torqueRow(s *procedure.Step, a *procedure.Act, o *procedure.Object, part *procedure.Part, loads bool) ReviewTorque {
	n := part.Qty
	if o.Count == procedure.Numbered {
		n = o.N
	}
	count, what, _ := strings.Cut(procedure.CountName(n, part.Name.Value), " ")
	row := ReviewTorque{Step: s.Name(), Count: count, What: what, Spec: threadAndStrength(part)}
	if o.Count == procedure.Remaining {
		row.Count, row.What = "", "the remaining "+procedure.Plural(part.Name.Value)
	}
	v, angle := a.Torque.Value, a.Torque.Angle
	if v == nil && angle == nil {
		v, angle = part.Torque.Value, part.Torque.Angle
	}
	row.More = manner(a, angle)
	if v != nil {
		row.NewtonMetres, row.PoundFeet = inBoth(*v)
	}
	if loads {
		row.loads(part, v, angle)
	}
	return row
}

// threadAndStrength is the part of a Spec that the loads are worked out from.
func threadAndStrength(p *procedure.Part) string {
	var all []string
	if t := p.Hardware.Thread; t != nil {
		all = append(all, t.Name)
	}
	if p.Hardware.Strength != "" {
		all = append(all, p.Hardware.Strength)
	}
	return strings.Join(all, " ")
}

// manner says how a torque is given beside its value.
func manner(a *procedure.Act, angle *quantity.Value) string {
	var all []string
	if a.Order != "" {
		all = append(all, a.Order)
	}
	if a.Passes.Count > 1 {
		all = append(all, fmt.Sprintf("in %d passes", a.Passes.Count))
	}
	s := strings.Join(all, " ")
	if angle != nil {
		if s != "" {
			s += ", "
		}
		s += "then " + angle.Running()
	}
	return s
}

// inBoth gives a torque in N·m and in lbf·ft; a small one in lbf·in, with the unit.
func inBoth(v quantity.Value) (metric, us string) {
	find := func(name string) *quantity.Unit { u, _ := quantity.UnitNamed(name); return u }
	pick := func(want func(*quantity.Unit) bool, name string) quantity.Value {
		bare := v
		bare.Second = nil
		switch {
		case want(v.Unit):
			return bare
		case v.Second != nil && want(v.Second.Unit):
			return *v.Second
		}
		return bare.In(find(name))
	}
	newton := pick(func(u *quantity.Unit) bool { return u.Name == "N·m" }, "N·m")
	metric, _ = newton.Boxed()
	other := quantity.Counterpart(newton.Unit, newton)
	if other == nil {
		return metric, ""
	}
	pound := pick(func(u *quantity.Unit) bool { return u.Name == "lbf·ft" || u.Name == "lbf·in" }, other.Name)
	figure, unit := pound.Boxed()
	if unit != "lbf·ft" {
		figure += " " + unit
	}
	return metric, figure
}

// loads works out what the torque does to the thread at the least, the middle and the most friction of its condition.
func (row *ReviewTorque) loads(part *procedure.Part, v, angle *quantity.Value) {
	proof, ok := part.Hardware.ProofLoad()
	switch {
	case v == nil && angle != nil:
		row.None = "an angle: no load follows from it"
		return
	case v == nil:
		row.None = "no value"
		return
	case part.Hardware.Thread == nil:
		row.None = "no thread given"
		return
	case part.Hardware.Strength == "":
		row.None = "no strength given"
		return
	case !ok:
		row.None = "strength not in the tables"
		return
	}
	friction := part.Hardware.Friction()
	if len(part.Hardware.Condition) > 0 {
		row.Friction = friction.Condition
	}
	for _, k := range []float64{friction.Low, (friction.Low + friction.High) / 2, friction.High} {
		if k <= 0 {
			row.None, row.Loads = "friction not in the tables", nil
			return
		}
		force := hardware.Preload(v.Float(), k, part.Hardware.Thread.Diameter)
		share := force / proof.Load
		load := Load{
			K: fmt.Sprintf("%.2f", k), Preload: strings.TrimSuffix(hardware.Force(force).Running(), " kN"),
			Share: fmt.Sprintf("%.0f %%", 100*share), Over: share > 1,
		}
		row.Over = row.Over || load.Over
		row.Loads = append(row.Loads, load)
	}
}
