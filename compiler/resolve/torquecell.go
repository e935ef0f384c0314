package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// torqueCell reads the Torque cell, or knows it.
func (r *resolver) torqueCell(p *procedure.Part, c *syntax.Cell) {
	if c.Text == "" || c.Text == "—" || c.Text == "-" || c.Text == "–" {
		return
	}
	if t, ok := r.in.Memory.torque(c.Text); ok {
		p.Torque, p.Torque.At = t, c.At
		return
	}
	faults, cell := len(r.faults), *c
	cell.Text = strings.Clone(c.Text) // what is kept must not keep a whole file
	r.tableTorque(p, &cell)
	if len(r.faults) == faults {
		r.in.Memory.keepTorque(cell.Text, procedure.Torque{
			Written: p.Torque.Written, Value: p.Torque.Value, Angle: p.Torque.Angle, HandTight: p.Torque.HandTight, BySetting: p.Torque.BySetting,
		})
	}
}

func (r *resolver) tableTorque(p *procedure.Part, c *syntax.Cell) {
	t := procedure.Torque{At: c.At, Written: true}
	switch strings.ToLower(strings.ReplaceAll(c.Text, "-", " ")) {
	case "hand tight", "finger tight":
		t.HandTight = true
		p.Torque = t
		return
	case "by setting":
		t.BySetting = true
		p.Torque = t
		return
	}
	v, n, bad := quantity.Prefix(c.Text)
	at := c.Part
	if bad != nil {
		r.fault(bad.Fault, at(bad.Start, bad.End), bad.Words...).Thing = p.Name.Value
		p.Torque = procedure.Torque{At: c.At, Written: true, BySetting: true}
		return
	}
	rest := strings.TrimSpace(c.Text[n:])
	if n > 0 && r.isTorque(&v, at(0, n), c.Text[:n]) {
		t.Value = &v
	} else if n > 0 {
		r.faults[len(r.faults)-1].Thing = p.Name.Value // the row says nothing of its torque: the play is silent about it
		p.Torque = procedure.Torque{At: c.At, Written: true, BySetting: true}
		return
	}
	if more, ok := strings.CutPrefix(rest, "+"); ok {
		if a := angle(strings.TrimSpace(more)); a != nil {
			t.Angle, rest = a, ""
		}
	} else if more, ok := strings.CutPrefix(rest, "then"); ok {
		if a := angle(strings.TrimSpace(more)); a != nil {
			t.Angle, rest = a, ""
		}
	}
	if n == 0 || rest != "" && !strings.HasPrefix(rest, "[") {
		r.fault("tag/bad-quantity", c.At, c.Text, "a torque such as 22 N·m, 20..24 N·m or 30 N·m + 90°, or hand-tight, or by setting").Thing = p.Name.Value
		t = procedure.Torque{At: c.At, Written: true, BySetting: true}
	}
	p.Torque = t
}

// isTorque reports a value whose unit is none of torque.
func (r *resolver) isTorque(v *quantity.Value, at source.Span, typed string) bool {
	ok, likely, other := quantity.TorqueUnit(v.Unit)
	if !ok {
		r.fault("torque/bad-unit", at, typed, likely, other)
	}
	return ok
}

// angle reads "90°", "a quarter turn", "1/4 turn"; nil when it is none.
func angle(s string) *quantity.Value {
	for _, w := range []string{"another ", "a "} {
		s = strings.TrimPrefix(s, w)
	}
	switch {
	case strings.HasPrefix(s, "quarter turn"):
		s = "1/4 turn"
	case strings.HasPrefix(s, "half turn"):
		s = "1/2 turn"
	case strings.HasPrefix(s, "third of a turn"):
		s = "1/3 turn"
	}
	v, bad := quantity.Parse(s)
	if bad != nil || v.Unit.Kind != quantity.Angle {
		return nil
	}
	if deg, ok := quantity.UnitNamed("°"); ok && v.Unit != deg {
		v = quantity.Of(v.Middle(), deg, 3)
	}
	return &v
}
