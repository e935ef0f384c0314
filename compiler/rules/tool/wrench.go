package tool

import (
	"fmt"
	"math/big"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

func appliesTorque(t *procedure.Tool) bool {
	for _, c := range t.Choices {
		if c.Kind.Kind == hardware.AppliesTorque {
			return true
		}
	}
	return false
}

// broken tells whether a tag of a tool could not be read: the wrench may have been meant there.
func broken(j *rules.Job) bool {
	return len(j.Named("tool/not-listed")) > 0 || len(j.Named("tool/ambiguous")) > 0
}

// misspelt tells whether a tag that could not be read may have meant a tool.
func misspelt(j *rules.Job, t *procedure.Tool) bool {
	if j.Muted(t.Whole) {
		return true
	}
	for _, c := range t.Choices {
		if j.Muted(c.Name) {
			return true
		}
	}
	return false
}

// torqued is one torque act with the tools that are bound to it.
type torqued struct {
	act    *procedure.Act
	wrench *procedure.Tool
	choice *procedure.Choice
	foot   *hardware.Tool // an adapter that lengthens the wrench
	value  *quantity.Value
}

// wrenchesAndFeet are torque wrenches, and the adapters that lengthen them.
var wrenchesAndFeet = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Kind == hardware.AppliesTorque || c.Kind.Crowfoot })

// torques are the torque acts with a value and the one wrench that is bound to them: tools bind to the acts of their sentence;
// with none there, of their step; with none there, of the stage.
var torques = rules.NewFact(func(j *rules.Job) []torqued {
	acts := j.Doing(verb.DoTorque)
	all := make([]torqued, 0, len(acts))
	for _, a := range acts {
		t := torqued{act: a, value: valueOf(a)}
		if a.Broken || t.value == nil {
			continue
		}
		for _, tool := range wrenchesAndFeet.Bound(j, a) {
			c := &tool.Tool.Choices[min(tool.Choice, len(tool.Tool.Choices)-1)]
			if c.Kind.Crowfoot {
				t.foot = &c.Kind
				continue
			}
			t.wrench, t.choice = tool.Tool, c
		}
		if t.wrench != nil {
			all = append(all, t)
		}
	}
	return all
})

// valueOf is the final value of a torque act: its own, else the table's. An angle alone has none: no wrench is set for it.
func valueOf(a *procedure.Act) *quantity.Value {
	if a.Torque.Value != nil || a.Torque.Angle != nil {
		return a.Torque.Value
	}
	if a.Torque.Angle != nil {
		return nil // turned by an angle alone: no wrench reads it
	}
	for _, o := range a.Objects {
		if o.Part != nil && o.Part.Torque.Value != nil {
			return o.Part.Torque.Value
		}
	}
	return nil
}

// outOfRange holds the value, or the setting with an adapter, against the wrench's range. Outside the range is an error,
// under the working range a warning.
func (t torqued) outOfRange(s *scale) (diag.Finding, bool) {
	r := t.choice.Kind.Range
	if r == nil || r.Form != quantity.Range {
		return diag.Finding{}, false
	}
	s.take(r)
	if t.foot == nil && t.value == s.good {
		return diag.Finding{}, false
	}
	set, what := *t.value, "the torque"
	if t.foot != nil && !rightAngle(t.foot) {
		if t.foot.Length == nil || t.choice.Kind.Length == nil {
			return diag.Finding{}, false // the setting can't be worked out
		}
		set, what = t.setting(), "the setting with the adapter"
	}
	at := set.Middle()
	beyond := quantity.Compare(at, s.low) < 0 || quantity.Compare(at, s.most) > 0
	if !beyond && quantity.Float(at) >= s.from {
		if t.foot == nil {
			s.good = t.value
		}
		return diag.Finding{}, false
	}
	f := diag.Finding{
		At: t.act.At, Step: t.act.Step.Num(), Thing: t.wrench.Whole,
		Message: fmt.Sprintf("%s is %s, and the %s reads %s", what, set.Running(), t.choice.Name, r.Running()),
		Do:      "list a torque wrench with " + set.Running() + " well inside its range",
	}
	f.Related = append(f.Related, related(t.wrench))
	if f.Severity = diag.Error; !beyond {
		f.Severity = diag.Warning
		f.Message = fmt.Sprintf("%s is %s, under a fifth of what the %s reads up to: %s", what, set.Running(), t.choice.Name, r.Running())
	}
	return f, true
}

// scale is the range of a wrench in the unit of reference, worked out once for the acts that follow each other with it.
type scale struct {
	of        *quantity.Value
	low, most *big.Rat
	from      float64         // of its working range
	good      *quantity.Value // the last value that was found inside
}

func (s *scale) take(r *quantity.Value) {
	if s.of == r {
		return
	}
	*s = scale{of: r}
	s.low, s.most = r.SI()
	s.from = hardware.WorkingFrom(quantity.Float(s.most)) * (1 - 1e-9) // a float may miss the very edge
}

// setting is what to dial with the adapter.
func (t torqued) setting() quantity.Value {
	degrees := 0.0
	if t.foot.Angle != nil {
		degrees = t.foot.Angle.Float()
	}
	dial := hardware.Setting(t.value.Float(), t.choice.Kind.Length.Float(), t.foot.Length.Float(), degrees)
	return quantity.Of(new(big.Rat).SetFloat64(dial), t.value.Unit, 3)
}
