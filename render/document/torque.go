package document

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/tightening"
)

// torque works out what to set: in the unit of the wrench at hand, with the other beside it.
func (w *writer) torque(act *procedure.Act) *TorqueBox {
	v, angle := act.Torque.Value, act.Torque.Angle
	what := ""
	for _, o := range act.Objects {
		if o.Part == nil {
			continue
		}
		if v == nil {
			v = o.Part.Torque.Value
		}
		if what == "" {
			what = procedure.CountName(max(o.N, 1), o.Part.Name.Value)
			if o.Count != procedure.Numbered {
				what = procedure.CountName(o.Part.Qty, o.Part.Name.Value)
			}
		}
	}
	if act.Torque.Value == nil && angle != nil { // the angle alone
		v = nil
	}
	if v == nil && angle == nil {
		return nil
	}
	b := &TorqueBox{}
	if angle != nil {
		b.Angle = "then " + angle.Running()
		if v == nil {
			b.Angle = angle.Running()
		}
	}
	if v != nil {
		first, second := w.both(*v, wrenchUnit(act))
		b.Figure, b.Unit = first.Boxed()
		if second != nil {
			b.Second, b.SecondUnit = second.Boxed()
		}
		if b.Dial = dial(act, first); b.Dial == "" { // else that is what to set
			b.Set = middle(act, first)
		}
	}
	w.table = append(w.table, TorqueRow{Step: act.Step.Name(), What: what, Figure: b.Figure, Unit: b.Unit, Second: b.Second, SecondUnit: b.SecondUnit, Then: b.Angle, At: act.At})
	return b
}

// both gives a value in the unit that prints first, and in the other.
func (w *writer) both(v quantity.Value, wrench *quantity.Unit) (first quantity.Value, second *quantity.Value) {
	unit := wrench
	if unit == nil || unit.Kind != v.Unit.Kind {
		unit = v.Unit
		if other := quantity.Counterpart(v.Unit, v); other != nil && (v.Unit.System == quantity.US) != w.us {
			unit = other
		}
	}
	bare := v
	bare.Second = nil
	switch {
	case unit != v.Unit && v.Second != nil && v.Second.Unit == unit:
		first = *v.Second
		return first, &bare
	case unit != v.Unit:
		return bare.In(unit), &bare
	case v.Second != nil:
		return bare, v.Second
	}
	if other := quantity.Counterpart(v.Unit, v); other != nil {
		x := bare.In(other)
		return bare, &x
	}
	return bare, nil
}

// boundTools gives the tools of the sentence of an act; with none there, those of its step.
func boundTools(act *procedure.Act) []hardware.Tool {
	var near, all []hardware.Tool
	for _, t := range act.Step.Acts {
		if t.Tool == nil {
			continue
		}
		c := t.Tool.Choices[min(t.Choice, len(t.Tool.Choices)-1)].Kind
		all = append(all, c)
		if t.Sentence == act.Sentence {
			near = append(near, c)
		}
	}
	if len(near) > 0 {
		return near
	}
	return all
}

func wrenchUnit(act *procedure.Act) *quantity.Unit {
	for _, t := range boundTools(act) {
		if t.Kind == hardware.AppliesTorque && t.Range != nil {
			return t.Range.Unit
		}
	}
	return nil
}

// dial is the setting with an adapter, empty without one and for one at a right angle, which changes nothing.
func dial(act *procedure.Act, v quantity.Value) string {
	var wrench, foot *quantity.Value
	degrees := 0.0
	for _, t := range boundTools(act) {
		switch {
		case t.Crowfoot:
			foot = t.Length
			if t.Angle != nil {
				degrees = t.Angle.Float()
			}
		case t.Kind == hardware.AppliesTorque:
			wrench = t.Length
		}
	}
	if wrench == nil || foot == nil || degrees == 90 {
		return ""
	}
	set := hardware.Setting(v.Float(), wrench.Float(), foot.Float(), degrees)
	figure, _ := quantity.Of(new(big.Rat).SetFloat64(set), v.Unit, 3).Boxed()
	return "dial " + figure
}

// middle is the one value to set where several fasteners have a range, so that all are alike; empty without.
// Source: NAVEDTRA 14008, torque procedures (read in an excerpt).
func middle(act *procedure.Act, v quantity.Value) string {
	n := 0
	for _, o := range act.Objects {
		switch {
		case o.Part == nil:
		case o.Count == procedure.Numbered:
			n += o.N
		default:
			n += o.Part.Qty
		}
	}
	if n < 2 || v.Form != quantity.Range || v.Unit == nil || v.Low.Rat == nil || v.High.Rat == nil {
		return ""
	}
	half := new(big.Rat).Quo(new(big.Rat).Add(v.Low.Rat, v.High.Rat), big.NewRat(2, 1))
	places, exact := half.FloatPrec()
	if !exact || places > 2 {
		places = 2
	}
	return "set " + half.FloatString(places)
}

// passes makes the table of the passes and the drawing beside it.
func (w *writer) passes(act *procedure.Act, s *procedure.Step, box *TorqueBox) *Passes {
	l := w.layoutOf(act)
	if act.Passes.Count < 2 && (l == nil || w.drawn[l]) {
		return nil
	}
	p := &Passes{}
	if box != nil {
		p.Unit, p.SecondUnit = box.Unit, box.SecondUnit
	}
	if act.Passes.Count > 1 && box != nil && box.Figure != "" {
		for i, v := range w.passValues(act) {
			first, _ := w.both(v, wrenchUnit(act))
			row := Pass{Name: fmt.Sprintf("Pass %d", i+1)}
			row.Figure, _ = first.Boxed()
			row.Second = passSecond(first, *box)
			p.Rows = append(p.Rows, row)
		}
		p.Below = "Same order in each pass; start at 1."
	}
	if l != nil {
		w.drawn[l] = true
		d := layout(l, act.Order)
		p.Layout = &d
	} else if len(p.Rows) > 0 {
		p.Below = "Same order in each pass."
	}
	return p
}

// passSecond gives a pass in the second unit of the whole torque, as fine as that is given.
func passSecond(v quantity.Value, box TorqueBox) string {
	unit, ok := quantity.UnitNamed(box.SecondUnit)
	if !ok {
		return ""
	}
	decimals := 0
	if _, behind, cut := strings.Cut(box.Second, "."); cut {
		decimals = len(behind)
	}
	one, _ := unit.Factor()
	return new(big.Rat).Quo(v.Middle(), one).FloatString(decimals)
}

func (w *writer) passValues(act *procedure.Act) []quantity.Value {
	if len(act.Passes.Values) > 0 {
		return act.Passes.Values
	}
	v := act.Torque.Value
	for _, o := range act.Objects {
		if v == nil && o.Part != nil {
			v = o.Part.Torque.Value
		}
	}
	if v == nil {
		return nil
	}
	bare := *v
	bare.Second = nil
	return tightening.Passes(act.Passes.Count, bare)
}

// layoutOf finds the drawing of what an act tightens, in the variant that the card is for.
func (w *writer) layoutOf(act *procedure.Act) *procedure.Layout {
	for _, o := range act.Objects {
		if o.Part == nil {
			continue
		}
		part := o.Part.For(w.opt.Variant)
		for _, l := range w.p.Layouts {
			if part != nil && slices.Contains(l.Parts, part) {
				return l
			}
		}
	}
	return nil
}

func layout(l *procedure.Layout, way string) Layout {
	places := make([]tightening.Place, len(l.Places))
	for i, p := range l.Places {
		places[i] = tightening.Place{X: p.X, Y: p.Y, Order: p.Order}
	}
	d := Layout{Part: l.Name.Value, At: l.Name.At}
	for i, n := range tightening.Order(places, way) {
		d.Places = append(d.Places, Place{X: places[i].X, Y: places[i].Y, Order: n})
	}
	return d
}

func pile(s *procedure.Stack) Pile {
	p := Pile{Name: s.Name.Value, At: s.Name.At}
	if s.Target != nil {
		figure, unit := s.Target.Boxed()
		p.Target = figure + " " + unit
	}
	for _, l := range s.Layers {
		words := procedure.CountName(l.Count, l.Part.Name.Value)
		if n := len(p.Layers); l.Alternates && n > 0 {
			p.Layers[n-1] += " alternating with " + words
			continue
		}
		p.Layers = append(p.Layers, words)
	}
	return p
}
