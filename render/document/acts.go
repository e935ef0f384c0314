package document

import (
	"fmt"
	"math/big"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/tightening"
	"refitcard/compiler/verb"
)

// segment is the words of one act: its own runs, and the prose that goes with it.
type segment struct {
	act  *procedure.Act
	runs []procedure.Run
}

// segments cuts the text of a step before each act. A sentence without an act stays with the act that follows it, or with
// the last one; "then" and "and" open the new line, and the comma at the cut is dropped. Not a word is added.
func segments(s *procedure.Step) []segment {
	var out []segment
	var loose []procedure.Run // since the last act
	for _, r := range s.Runs {
		if r.Act == nil || r.Act.Verb == nil || !r.Act.Verb.Ticks {
			loose = append(loose, r)
			continue
		}
		if n := len(out); n > 0 && out[n-1].act == r.Act && len(loose) == 0 {
			out[n-1].runs = append(out[n-1].runs, r)
			continue
		}
		lead := loose
		if n := len(out); n > 0 {
			var tail []procedure.Run
			tail, lead = between(loose)
			out[n-1].runs = append(out[n-1].runs, tail...)
		}
		out = append(out, segment{r.Act, append(append([]procedure.Run{}, lead...), r)})
		loose = nil
	}
	if n := len(out); n > 0 {
		out[n-1].runs = append(out[n-1].runs, loose...)
	} else if len(loose) > 0 {
		out = append(out, segment{nil, loose})
	}
	return out
}

// between parts the prose between two acts: up to the last end of a sentence it belongs to the first; a "then" or "and" right
// before the second opens its line.
func between(loose []procedure.Run) (tail, lead []procedure.Run) {
	for i := len(loose) - 1; i >= 0; i-- {
		if loose[i].End {
			return loose[:i], loose[i+1:]
		}
		if loose[i].Act != nil {
			continue
		}
		if at := lastStop(loose[i].Text); at >= 0 {
			return parted(loose, i, at)
		}
	}
	if n := len(loose); n > 0 && loose[n-1].Act == nil {
		text := loose[n-1].Text
		for _, w := range []string{", and then ", ", then ", ", and ", " and then ", " then ", " and ", ", "} {
			if strings.HasSuffix(text, w) {
				tail, lead = parted(loose, n-1, len(text)-len(strings.TrimPrefix(strings.TrimPrefix(w, ","), " ")))
				if k := len(tail); k > 0 {
					tail[k-1].Text = strings.TrimRight(tail[k-1].Text, " ,")
				}
				return tail, lead
			}
		}
	}
	return loose, nil
}

// lastStop gives the place behind the last end of a sentence, -1 when there is none.
func lastStop(s string) int {
	for i := len(s) - 1; i >= 0; i-- {
		if strings.ContainsRune(".!?", rune(s[i])) && (i+1 == len(s) || s[i+1] == ' ') {
			return i + 1
		}
	}
	return -1
}

func parted(loose []procedure.Run, i, at int) (tail, lead []procedure.Run) {
	a, b := loose[i], loose[i]
	a.Text, b.Text = a.Text[:at], a.Text[at:]
	tail = append(append(tail, loose[:i]...), a)
	if strings.TrimSpace(b.Text) != "" {
		lead = append(lead, b)
	}
	return tail, append(lead, loose[i+1:]...)
}

// acts turns a step into paragraphs with their boxes, and its hold and handover into blocks at their places.
func (w *writer) acts(s *procedure.Step) []Act {
	var out []Act
	why := ""
	for _, g := range segments(s) {
		a := Act{Runs: opening(trim(closed(boldRuns(g.runs)))), Tick: true}
		if strings.Trim(text(a.Runs), " .,") == "" {
			continue
		}
		if g.act == nil && s.Hold.Set() {
			why = text(a.Runs) // "to see both pins": the words stand in the hold
			continue
		}
		if g.act != nil {
			w.fill(&a, g.act, s)
		}
		if a.Tick {
			w.boxes++
		}
		out = append(out, a)
	}
	if s.Hold.Set() {
		w.line++
		out = append(out, Act{Hold: &Hold{For: strings.TrimPrefix(s.Hold.Value, "for "), Why: why}})
	}
	if s.Handover.Known() {
		out = append(out, Act{Handover: w.handover(s)})
	}
	if len(out) == 0 {
		// A step that only notes what is to be done later still says so at its place.
		for _, f := range s.FollowUp {
			out = append(out, Act{Runs: []Run{{Text: "After the job:", Bold: true}, {Text: " " + f.Name + "."}}})
		}
	}
	return out
}

// closed drops the full stop of a sentence of which nothing prints.
func closed(runs []Run) []Run {
	var out []Run
	for _, r := range runs {
		before := strings.TrimRight(text(out), " ")
		if bare := strings.TrimLeft(r.Text, " "); before != "" && strings.ContainsRune(".!?", rune(before[len(before)-1])) {
			r.Text = r.Text[:len(r.Text)-len(bare)] + strings.TrimLeft(bare, ".,;")
		}
		if r.Text != "" {
			out = append(out, r)
		}
	}
	return out
}

// opening takes the punctuation off the start that a tag which does not print has left behind.
func opening(runs []Run) []Run {
	for len(runs) > 0 {
		if runs[0].Text = strings.TrimLeft(runs[0].Text, " .,;:"); runs[0].Text != "" {
			break
		}
		runs = runs[1:]
	}
	return runs
}

// fill adds to a paragraph what stands beside and below it.
func (w *writer) fill(a *Act, act *procedure.Act, s *procedure.Step) {
	switch act.Verb.Effect {
	case verb.DoTorque:
		a.Torque = w.torque(act)
		if a.Passes = w.passes(act, s, a.Torque); a.Passes != nil && len(a.Passes.Rows) > 0 {
			a.Tick = false
			w.boxes += len(a.Passes.Rows)
		}
	case verb.Measured, verb.Recorded:
		a.Boxes = measureBoxes(act)
		w.line++
	case verb.Checked:
		if act.Limit != nil {
			a.Boxes = measureBoxes(act)
		}
		w.line++
	case verb.Install, verb.Replace:
		a.Lines = append(a.Lines, ways(act)...)
	}
	if act.Else != "" {
		a.Lines = append(a.Lines, "Else "+strings.TrimRight(act.Else, ".")+".")
	}
}

// ways says which way round the parts of an act go on, a line each; of several parts each line names its own.
func ways(act *procedure.Act) []string {
	parts := 0
	for _, o := range act.Objects {
		if o.Part != nil {
			parts++
		}
	}
	var lines []string
	for _, o := range act.Objects {
		if o.Part == nil {
			continue
		}
		for _, f := range o.Part.Faces {
			words := f.Value
			if parts > 1 {
				words = o.Part.Name.Value + " " + words
			}
			lines = append(lines, strings.ToUpper(words[:1])+words[1:]+".")
		}
	}
	return lines
}

func measureBoxes(act *procedure.Act) []MeasureBox {
	b := MeasureBox{}
	if act.Limit != nil {
		b.Limits, b.Unit = act.Limit.Boxed()
	}
	if act.Places < 2 {
		return []MeasureBox{b}
	}
	var all []MeasureBox
	for i := range act.Places {
		b.Place = fmt.Sprint(i + 1)
		all = append(all, b)
	}
	return all
}

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
		b.Dial = dial(act, first)
	}
	w.table = append(w.table, TorqueRow{Step: act.Step.Name(), What: what, Figure: b.Figure, Unit: b.Unit, Second: b.Second, SecondUnit: b.SecondUnit, Then: b.Angle})
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

// layoutOf finds the drawing of what an act tightens.
func (w *writer) layoutOf(act *procedure.Act) *procedure.Layout {
	for _, o := range act.Objects {
		for _, l := range w.p.Layouts {
			for _, p := range l.Parts {
				if o.Part != nil && (p == o.Part || p == o.Part.For(w.opt.Variant)) {
					return l
				}
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
	d := Layout{Part: l.Name.Value}
	for i, n := range tightening.Order(places, way) {
		d.Places = append(d.Places, Place{X: places[i].X, Y: places[i].Y, Order: n})
	}
	return d
}

func pile(s *procedure.Stack) Pile {
	p := Pile{Name: s.Name.Value}
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
