package torque

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var otherUnit = rules.Rule{
	Name:     "torque/other-unit",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, a := range j.Doing(verb.DoTorque) {
			value := written(a)
			if a.Broken || value == nil {
				continue
			}
			wrenches := ranged.Bound(j, a)
			if len(wrenches) != 1 {
				continue
			}
			w := &wrenches[0].Tool.Choices[wrenches[0].Choice]
			if reads(w.Kind.Range, value) || againstTable(a, value) {
				continue
			}
			unit := w.Kind.Range.Unit
			f := diag.Finding{
				At: a.At, Step: a.Step.Num(),
				Message: fmt.Sprintf("%s: %s is asked for, and the %s reads in %s", rules.Quote(torquedThing(a)), value.Running(), w.Name, unit.Name),
				Do:      fmt.Sprintf("write the second unit in brackets: %s (%s)", value.Running(), value.In(unit).Running()),
			}
			f.Related = append(f.Related, source.Related{At: wrenches[0].Tool.At, Words: "listed"})
			all = append(all, f)
		}
		return all
	},
}

// ranged are torque wrenches with a range.
var ranged = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Kind == hardware.AppliesTorque && c.Kind.Range != nil })

// written is the torque that a tag gives, else the table's. An angle alone has none.
func written(a *procedure.Act) *quantity.Value {
	if a.Torque.Value != nil || a.Torque.Angle != nil {
		return a.Torque.Value
	}
	for _, o := range a.Objects {
		if o.Part != nil && o.Part.Torque.Value != nil {
			return o.Part.Torque.Value
		}
	}
	return nil
}

// againstTable tells whether a tag's torque is not the table's: that is the slip then, and its unit no second one.
func againstTable(a *procedure.Act, v *quantity.Value) bool {
	for _, o := range a.Objects {
		if o.Part == nil || o.Part.Torque.Value == nil {
			continue
		}
		if t := *o.Part.Torque.Value; quantity.Cmp(*v, t) > 0 && !v.Agrees(t) {
			return true
		}
	}
	return false
}

// reads tells whether a wrench's scale has the unit of the torque: its first or its second unit, on either side.
func reads(scale, v *quantity.Value) bool {
	for _, s := range [2]*quantity.Value{scale, scale.Second} {
		for _, t := range [2]*quantity.Value{v, v.Second} {
			if s != nil && t != nil && s.Unit == t.Unit {
				return true
			}
		}
	}
	return false
}

// torquedThing names what an act torques, as typed.
func torquedThing(a *procedure.Act) string {
	if len(a.Objects) == 0 {
		return a.Words
	}
	return a.Objects[0].Typed
}
