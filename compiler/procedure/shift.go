package procedure

import "refitcard/compiler/source"

// Shift moves the places of all that stands behind an edit. The steps up to and with the given one of its stage stay as they are: they
// stand before it, or are new.
func (p *Procedure) Shift(by source.Shift, stage *Stage, step int) {
	m := mover{by}
	m.messages(p.Messages)
	for _, a := range p.Spoken {
		if a.Step == nil { // those of steps are among the acts of these
			m.act(a)
		}
	}
	behind := false
	for _, s := range p.Stages {
		from := 0
		switch {
		case s == stage:
			behind, from = true, step+1
		case !behind:
			continue
		}
		m.text(&s.Title)
		by.Span(&s.At)
		m.messages(s.Messages) // some stand behind the steps
		m.steps(s.Steps[from:])
		m.remarks(s.Tail)
	}
	for _, l := range p.Layouts {
		m.layout(l)
	}
	for _, k := range p.Stacks {
		m.stack(k)
	}
	for _, w := range p.Waivers {
		by.Span(&w.At)
		m.text(&w.Rule)
	}
}

// mover visits every place once: what several lists name is moved by one of them.
type mover struct{ source.Shift }

func (m mover) text(t *Text) { m.Span(&t.At) }

func (m mover) texts(list []Text) {
	for i := range list {
		m.text(&list[i])
	}
}

func (m mover) steps(list []*Step) {
	for _, s := range list {
		m.step(s)
	}
}

func (m mover) step(s *Step) {
	m.Span(&s.At)
	m.remarks(s.Before)
	m.messages(s.Messages)
	m.runs(s.Runs)
	for _, a := range s.Acts { // those to come later are among them
		m.act(a)
	}
	m.remarks(s.Notes)
	m.text(&s.If)
	m.Span(&s.Otherwise)
	m.texts(s.For)
	m.Span(&s.Repeat.At)
	m.text(&s.Label)
	m.text(&s.Hold)
	m.Span(&s.HoldAt)
	m.Span(&s.Handover)
	m.texts(s.Wear)
	m.steps(s.Steps)
}

func (m mover) runs(list []Run) {
	m.again(list)
	for i := range list {
		if s := list[i].Step; s != nil { // its label stands in the tag
			m.text(&s.Label)
		}
	}
}

// again moves runs that stand in a second list too: what they point to was moved there.
func (m mover) again(list []Run) {
	for i := range list {
		m.Span(&list[i].At)
	}
}

func (m mover) remarks(list []Remark) {
	for _, r := range list {
		switch {
		case r.Note != nil:
			m.Span(&r.Note.At)
			m.runs(r.Note.Runs)
		case r.Figure != nil:
			m.Span(&r.Figure.At)
			m.text(&r.Figure.Path)
		}
	}
}

func (m mover) messages(list []*Message) {
	for _, x := range list {
		m.Span(&x.At)
		m.runs(x.Runs)
		if len(x.Hazard) > 0 && &x.Hazard[0] != &x.Runs[0] { // else it is all of them
			m.again(x.Hazard)
		}
		m.again(x.Rest)
	}
}

func (m mover) act(a *Act) {
	m.Span(&a.At)
	m.objects(a.Objects)
	m.objects(a.Mentions)
	for _, at := range [...]*source.Span{&a.Torque.At, &a.OrderAt, &a.Passes.At, &a.AmountAt, &a.LimitAt, &a.ElseAt} {
		m.Span(at)
	}
}

func (m mover) objects(list []Object) {
	for i := range list {
		o := &list[i]
		m.Span(&o.At)
		m.Span(&o.NameAt)
		m.Span(&o.CountAt)
	}
}

func (m mover) layout(l *Layout) {
	m.Span(&l.At)
	m.text(&l.Name)
	for i := range l.Places {
		m.Span(&l.Places[i].At)
	}
}

func (m mover) stack(k *Stack) {
	m.Span(&k.At)
	m.text(&k.Name)
	m.Span(&k.TargetAt)
	for i := range k.Layers {
		m.Span(&k.Layers[i].At)
	}
}
