package document

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
)

// Labels are stuck on the bags and boxes that hold what comes off a machine.
type Labels struct {
	Header Header
	Labels []Label
}

// Label is one of them.
type Label struct {
	Count  int
	Name   string // "cover bolt", "old cover gasket"
	Detail string // spec, and what lifts it; may be empty
	Holds  string // "end cover": what a fastener goes back on; may be empty
	Each   string // "wheel 1 of 2" when the job is done once for each
	Letter string // of the bag, as on the pick list; only fasteners that go back have one
	Off    string // name of the step
	Back   string // name of the step in which it goes back; empty when it stays off
	Torque string // "22 N·m"; may be empty
	Scrap  bool   // it does not go back
}

// MakeLabels makes the labels of a job: the hardware bags in the order of their letters, other parts that go back, then what
// is scrapped, each in the order in which it comes off.
func MakeLabels(in PickInput, opt Options) *Labels {
	play := playOf(in.Plays, in.Variant)
	out := &Labels{Header: header(in.Proc, in.Variant)}
	out.Header.Kind, out.Header.Draft = "Labels", false
	w := &writer{p: in.Proc, play: play, s: in.Settings, opt: opt, us: prefersUS(in.Proc, in.Settings, opt)}
	var set []Label
	for i, t := range bagged(in.Proc, play) {
		l := w.label(t)
		l.Letter, l.Holds = letter(i), held(t.part)
		set = append(set, l)
	}
	for _, t := range takenOff(play, func(p *procedure.Part) bool { return !p.Fastener() && p.Use != procedure.ReplaceUse }) {
		set = append(set, w.label(t))
	}
	for _, t := range takenOff(play, func(p *procedure.Part) bool { return p.Use == procedure.ReplaceUse }) {
		l := w.label(t)
		l.Name, l.Back, l.Torque, l.Scrap = "old "+l.Name, "", "", true
		set = append(set, l)
	}
	n := times(in.Proc)
	for i := range n {
		for _, l := range set {
			if n > 1 {
				l.Each = fmt.Sprintf("%s %d of %d", in.Proc.Each.Name, i+1, n)
			}
			out.Labels = append(out.Labels, l)
		}
	}
	return out
}

func (w *writer) label(t taken) Label {
	l := Label{Count: t.n, Name: t.part.Name.Value, Detail: t.part.Spec.Value, Off: t.off.Name(), Back: t.on.Name()}
	if t.part.Hardware.Mass != nil {
		l.Detail += lifter(t.off)
	}
	if l.Back != "" {
		l.Torque = w.labelTorque(t.part)
	}
	return l
}

// labelTorque is the torque to which a part goes back, in the unit of the wrench that the step names.
func (w *writer) labelTorque(p *procedure.Part) string {
	v, angle := p.Torque.Value, p.Torque.Angle
	var wrench *quantity.Unit
	if act := w.play.Last[p]; act != nil {
		wrench = wrenchUnit(act)
		if act.Torque.Value != nil || act.Torque.Angle != nil {
			v, angle = act.Torque.Value, act.Torque.Angle
		}
	}
	var all []string
	if v != nil {
		first, _ := w.both(*v, wrench)
		figure, unit := first.Boxed()
		all = append(all, figure+" "+unit)
	}
	if angle != nil {
		all = append(all, angle.Running())
	}
	if len(all) == 0 && p.Torque.HandTight {
		return "hand-tight"
	}
	return strings.Join(all, ", then ")
}

// taken is a part that comes off: how many, in which step first, and in which step it first goes back.
type taken struct {
	part    *procedure.Part
	n       int
	off, on *procedure.Step
}

// takenOff lists the parts of a kind that come off, in the order in which they do. New ones that go on are no part of it, save
// that replacing a part takes the old one off, and that a new one may go on in the place of a worn one.
func takenOff(play assembly.Play, kind func(*procedure.Part) bool) []taken {
	var all []taken
	for _, m := range play.Moves {
		if !kind(m.Part) {
			continue
		}
		i := slices.IndexFunc(all, func(t taken) bool { return t.part == m.Part })
		off := m.To == "off" && !m.New || m.New && m.Part.Use == procedure.ReplaceUse && m.Act.Verb.Name == "replace"
		back := m.To == "on" || m.To == "hand" || m.To == "in"
		switch {
		case off && i < 0:
			all = append(all, taken{part: m.Part, n: min(m.N, m.Part.Qty), off: m.Step})
		case off && all[i].on == nil:
			all[i].n = min(all[i].n+m.N, m.Part.Qty)
		case i >= 0 && back && all[i].on == nil && (!m.New || m.Part.Use == procedure.IfWorn):
			all[i].on = m.Step
		}
	}
	return all
}

// bagged lists the fasteners that come off and go back: a bag each.
func bagged(p *procedure.Procedure, play assembly.Play) []taken {
	return takenOff(play, func(part *procedure.Part) bool { return part.Fastener() && returns(part) })
}
