package planted_test

import "fmt"

// ballast is a part of two counts, one a variant, and one that only the second variant has.
type ballast struct {
	m     *maker
	plate *row // of the first variant; the second has a row of the same name
	extra *row
}

func (m *maker) ballast() *ballast {
	m.kinds = pick(m, []string{"RW40", "RW60"}, []string{"short", "long"}, []string{"old model", "new model"})
	b := &ballast{m: m}
	n := 2 + m.IntN(4)
	b.plate = m.row(row{name: "ballast plate", qty: n, variant: m.kinds[0]})
	m.row(row{name: "ballast plate", qty: n + 2, variant: m.kinds[1]})
	if m.chance(60) {
		b.extra = m.row(row{name: "wind vane", qty: 1, variant: m.kinds[1]})
	}
	return b
}

func (b *ballast) every() *object { return &object{row: b.plate, n: b.plate.qty, style: "all"} }

func (b *ballast) only(w *writer, x *sentence) {
	s := w.alone(x)
	s.lead = []*tag{b.m.words("for", b.m.kinds[1])}
}

func (b *ballast) strip(w *writer) {
	w.say(b.m.line(b.m.act("remove", b.every())))
	if b.extra != nil {
		b.only(w, b.m.line(b.m.act("remove", b.m.all(b.extra))))
	}
}

func (b *ballast) work(w *writer) {
	b.only(w, b.m.line(b.m.words("check", "the outer seats are clean")))
}

func (b *ballast) refit(w *writer) {
	if b.extra != nil {
		b.only(w, b.m.line(b.m.act("install", b.m.all(b.extra))))
	}
	w.say(b.m.line(b.m.act("install", b.every())))
}

// half is a job that another one begins, or goes on with: a screen that is off at the start, or stays off at the end.
type half struct {
	m    *maker
	row  *row
	g    *group
	ends bool // it stays off
}

func (m *maker) half() *half {
	h := &half{m: m, ends: m.chance(50)}
	h.row = m.row(row{name: "weed screen", qty: 1})
	h.g = m.group(h.row, "screen bolt", pick(m, 2, 4, 6))
	key := "starts"
	if h.ends {
		key = "leaves"
	}
	m.given[key] = append(m.given[key], pick(m, "remove weed screen", "remove the weed screen"))
	return h
}

func (h *half) strip(w *writer) {
	if h.ends {
		h.g.off(w)
		w.say(h.m.line(h.m.act("remove", h.m.all(h.row))))
	}
}

func (h *half) work(*writer) {}

func (h *half) refit(w *writer) {
	if !h.ends {
		w.say(h.m.line(h.m.act("install", h.m.all(h.row))))
		h.g.back(w)
	}
}

// changed is what the job adds to the machine and takes off it for good.
type changed struct {
	m         *maker
	add, omit *row
	cable     *row // slackened, and set by a later job
}

func (m *maker) changed() *changed {
	c := &changed{m: m}
	if m.chance(60) {
		c.add = m.row(row{name: "drip tray", qty: pick(m, 1, 2), use: "add"})
	}
	if m.chance(60) {
		c.omit = m.row(row{name: "transit clamp", qty: pick(m, 1, 2), use: "omit"})
	}
	if c.add == nil && c.omit == nil || m.chance(30) {
		c.cable = m.row(row{name: "cable nut", qty: 1, spec: "M8 hex", torque: "by setting"})
	}
	return c
}

func (c *changed) strip(w *writer) {
	m := c.m
	if c.omit != nil {
		w.say(m.line(m.act("remove", m.all(c.omit))))
	}
	if c.cable != nil {
		w.alone(m.line(m.act("loosen", m.all(c.cable)), " with the ", m.toolOf("13 mm open-end wrench", "")),
			m.line(m.words("waive", "refit/left-loose: the cable is set on the road test")))
	}
}

func (c *changed) work(*writer) {}

func (c *changed) refit(w *writer) {
	if c.add != nil {
		o := c.m.all(c.add)
		if c.m.chance(50) {
			o = fresh(o)
		}
		w.say(c.m.line(c.m.act("install", o)))
	}
}

// touch adds what a job may have besides: notes, messages, times, protective equipment, labels, sub-steps, lines that are cut.
func (m *maker) touch() {
	d := m.d
	steps := d.steps()
	said := map[string]int{} // a message that stands at three steps is overlooked, and told of
	for _, s := range steps {
		switch {
		case m.chance(6):
			s.notes = append(s.notes, pick(m, "Keep the small parts in a tin.", `A brace in prose is \{ and \}.`, "Normal force is no concern here."))
		case m.chance(5):
			text := pick(m, "**CAUTION** Sharp edges. They cut hands. Wear gloves.", "NOTICE: Dirt spoils the bore. Keep the rag clear of it.")
			if said[text]++; said[text] < 3 {
				s.before = text
			}
		case m.chance(6):
			s.sents = append(s.sents, m.line(m.words("takes", fmt.Sprintf("%d min", 2+m.IntN(9)))))
		case m.chance(6) && len(s.sents) > 1:
			s.wrap = 1 + m.IntN(len(s.sents)-1)
		case m.chance(4) && s.acts() < 3:
			s.sents = append([]*sentence{m.line(m.words("wear", pick(m, "goggles and gloves", "gloves")))}, s.sents...)
		case m.chance(4) && s.acts() < 3:
			if said["edge"]++; said["edge"] < 3 {
				s.sents = append([]*sentence{m.line(m.words("caution", "The edge is sharp. Wear gloves."))}, s.sents...)
			}
		case m.chance(6) && len(s.sents) > 1 && len(s.lead) == 0 && !s.drains():
			m.parted(s)
		}
	}
	m.extraSteps()
}

func (s *step) drains() bool {
	for _, t := range s.tags() {
		if t.kind == "drain" || t.kind == "waive" {
			return true
		}
	}
	return false
}

// parted makes sub-steps of the sentences of a step.
func (m *maker) parted(s *step) {
	list := s.sents
	s.sents, s.wrap = []*sentence{m.line(pick(m, "in this order", "with care, one by one"))}, 0
	for _, x := range list {
		s.subs = append(s.subs, &step{sents: []*sentence{x}})
	}
}

// extraSteps puts steps with no effect on the machine between the others.
func (m *maker) extraSteps() {
	add := func(stage int, s *step) {
		st := m.d.stages[stage]
		st.items = append(st.items, s)
	}
	last := len(m.d.stages) - 1
	if m.chance(15) {
		s := &step{sents: []*sentence{m.line("turn the shaft by hand"), m.line(m.words("check", "it runs free"))}}
		s.lead = []*tag{m.words("repeat", pick(m, "3 times", "until it is smooth"))}
		add(last, s)
	}
	if m.chance(10) {
		m.d.stages[last-2].items = append([]any{&step{sents: []*sentence{m.line(m.act("handover"))}}}, m.d.stages[last-2].items...)
	}
	if m.chance(15) {
		add(last-2, &step{sents: []*sentence{m.line(m.words("hold", "for the supervisor"), " to see it open")}})
	}
	if m.chance(15) {
		add(last, &step{sents: []*sentence{m.line(m.words("follow up", "look for drips after 50 km"))}})
	}
	if m.chance(15) {
		from := pick(m, m.d.steps()...)
		from.sents = append(from.sents, m.line(m.words("label", "here")))
		add(last, &step{sents: []*sentence{m.line(m.words("check", "nothing knocks")), m.line("if it does, go back to step ", m.words("number", "here"))}})
	}
	if m.chance(10) {
		flap := &step{sents: []*sentence{m.sentence(m.c(m.act("open", thing("flap valve"))), m.c(m.act("close", thing("flap valve"))))}}
		flap.lead = []*tag{m.words("repeat", pick(m, "2 times", "until it moves freely"))}
		add(last, flap)
	}
}
