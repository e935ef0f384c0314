package planted_test

import (
	"fmt"
	"strings"
)

// bolted is a part that bolts with nuts hold: the nut has the torque, the bolt has none.
type bolted struct {
	m              *maker
	row, bolt, nut *row
	spanner, bits  *tool
	wrench         *tool
	trial          bool // put together once to measure, and apart again
	firmly         bool // snugged before the torque
	again          bool // torqued once more at the end
	grease         bool
	half           bool
}

func (m *maker) bolted() *bolted {
	b := &bolted{m: m, trial: m.chance(30), firmly: m.chance(30), again: m.chance(20), half: m.chance(20)}
	n := pick(m, 2, 3, 4, 6)
	b.row = m.row(row{name: "guide roller", qty: 1, spec: pick(m, "", "12 kg")})
	spec := "M12" + pick(m, "×60", "x60", " × 60", "×1.75×60") + " 8.8 hex"
	nutSpec := "M12 class 8 hex"
	if m.chance(30) {
		b.grease = true
		nutSpec += pick(m, ", oiled", ", anti-seize")
	}
	b.bolt = m.row(row{name: "roller bolt", qty: n, spec: spec, place: []string{"holds guide roller"}})
	b.nut = m.row(row{name: "roller nut", qty: n, spec: nutSpec, place: []string{"holds guide roller"}, torque: "60 N·m"})
	b.spanner = m.toolOf("18 mm ring spanner", "")
	b.bits = m.toolOf("18 mm socket", "")
	b.wrench = m.toolOf("torque wrench", "20–100 N·m") // its scale holds the half and the whole
	return b
}

func (b *bolted) strip(w *writer) {
	m := b.m
	if m.chance(40) {
		w.say(m.line(m.act("loosen", m.all(b.nut)), " with the ", b.spanner))
	}
	if m.chance(50) {
		w.say(m.line("take the ", b.bits, " and the ", b.spanner), m.line(m.act("remove", m.all(b.nut), m.all(b.bolt))))
	} else {
		w.say(m.line("with the ", b.bits, " and the ", b.spanner, ", ", m.act("remove", m.all(b.nut), m.all(b.bolt))))
	}
	w.say(m.line(m.act("remove", m.all(b.row))))
}

func (b *bolted) work(w *writer) {
	if b.trial {
		b.together(w)
		rule := b.m.toolOf("steel rule", "0–150 mm")
		w.say(b.m.line(b.m.words("measure", "roller clearance 3..5 mm, else tell the foreman"), " with the ", rule))
		b.strip(w)
	}
}

func (b *bolted) together(w *writer) {
	m := b.m
	w.say(m.line(m.act("install", m.all(b.row), m.all(b.bolt), m.all(b.nut)), pick(m, "", " finger-tight")))
}

func (b *bolted) refit(w *writer) {
	m := b.m
	b.together(w)
	if b.grease {
		w.say(m.line(m.words("lubricate", "the threads"), " with ", m.spend(greaseFor(b.nut.spec), "mL", "", 3)))
	}
	if b.firmly {
		w.say(m.line(m.act("snug", m.all(b.nut)), " with the ", b.spanner))
	}
	torque := func(tail string) {
		t := m.act("torque", m.all(b.nut))
		t.tail = tail
		w.say(m.line(t, " with the ", b.wrench, " and ", b.bits))
	}
	if b.half {
		torque(" to 30 N·m crosswise")
	}
	torque(pick(m, "", " to 60 N·m") + " crosswise")
	if b.again {
		w.say(m.line("turn the roller by hand"))
		torque(" crosswise")
	}
}

func greaseFor(spec string) string {
	if strings.HasSuffix(spec, "oiled") {
		return "machine oil"
	}
	return "anti-seize paste"
}

// often is a job that is done only sometimes, in several steps under one condition, or in the sub-steps of one.
type often struct {
	m    *maker
	row  *row
	plan int
	cord *row
}

func (m *maker) often() *often {
	o := &often{m: m, plan: m.IntN(4)}
	o.row = m.row(row{name: "mud flap", qty: pick(m, 1, 2), use: pick(m, "", "if worn")})
	if m.chance(40) {
		o.cord = m.row(row{name: "flap cord", qty: 1, use: "if worn", place: []string{"behind mud flap"}})
	}
	return o
}

func (o *often) strip(*writer) {}

// acts are what is done under the condition: off, out, in, on.
func (o *often) acts() []*sentence {
	m := o.m
	list := []*sentence{m.line(m.act("remove", m.all(o.row)))}
	if o.cord != nil {
		list = append(list, m.line(m.act("replace", m.all(o.cord))))
	}
	on := m.all(o.row)
	if o.row.use == "if worn" && m.chance(50) {
		on = fresh(on)
	}
	return append(list, m.line(m.act("install", on)))
}

func (o *often) work(w *writer) {
	m := o.m
	words := pick(m, "the flap is torn", "mud lies behind the flap")
	list := o.acts()
	governed := func(s *step) { s.lead = append(s.lead, m.words("if", words)) }
	switch o.plan {
	case 0:
		governed(w.alone(list...))
	case 1:
		for _, x := range list {
			governed(w.alone(x))
			if m.chance(30) {
				w.alone(m.line(m.words("check", "the bay is dry")))
			}
		}
	case 2:
		s := w.alone(m.line("in this order"))
		for _, x := range list {
			s.subs = append(s.subs, &step{sents: []*sentence{x}})
		}
		governed(s)
	default:
		governed(w.alone(list...))
		other := w.alone(m.line(m.words("clean", "the flap edge")))
		other.lead = []*tag{{kind: "otherwise", verb: "otherwise"}}
	}
}

func (o *often) refit(*writer) {}

// aside is what is opened and shut on the way: doors, a lock that is given back for a test run and taken again.
type aside struct{ m *maker }

func (a *aside) strip(w *writer) {
	m := a.m
	if m.chance(50) {
		w.say(m.line(m.act("open", thing("side door"), thing("grille"))))
	} else {
		w.say(m.sentence(m.c(m.act("open", thing("side door"))), m.c(m.act("open", thing("grille")))))
	}
	if m.chance(50) {
		w.say(m.line(m.act("insert", things(3, "rag")), " into the ports"))
	}
	if m.chance(30) {
		w.alone(m.line("strike with the ", m.toolOf("rubber mallet or soft hammer", "")), m.line(m.words("record", "the sound"), " in words"))
	}
}

func (a *aside) work(w *writer) {
	if a.m.chance(30) {
		w.say(a.m.line(a.m.words("tell", "the foreman"), " what was seen"))
	}
}

func (a *aside) refit(w *writer) {
	m := a.m
	if done := m.d.hits("insert"); len(named(done, "rag")) > 0 {
		if m.chance(50) {
			w.say(m.line(m.act("withdraw", things(1, "rag"))), m.line(m.act("withdraw", things(2, "rag"))))
		} else {
			w.say(m.line(m.act("withdraw", &object{free: "rag", plural: "rags", n: 3, style: pick(m, "digits", "words", "all")})))
		}
	}
	w.say(m.line(m.act("close", thing("grille"), thing("side door"))))
}

// oddly types some tags and lines in ways that must make no difference.
func (m *maker) oddly() {
	for _, s := range m.d.steps() {
		for _, t := range s.tags() {
			switch {
			case t.raw != "" || t.tool != nil || len(t.objs) == 0:
			case m.chance(2):
				t.becomes("{" + strings.ToUpper(t.verb[:1]) + t.verb[1:] + "  " + strings.TrimPrefix(t.text(), "{"+t.verb+" "))
			case m.chance(2):
				for _, o := range t.objs {
					if o.row != nil && o.n == 0 {
						o.mark = pick(m, "its ", "The ", "THE ")
					}
				}
			case m.chance(2):
				t.becomes(strings.Replace(t.text(), "{"+t.verb+" ", "{"+t.verb+": ", 1))
			}
		}
	}
	if m.d.wholly == nil && m.chance(6) {
		m.d.wholly = func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }
	}
}

// oneByOne writes the job module by module: each comes apart, is looked after and goes together before the next is begun.
func (m *maker) oneByOne(list []module) {
	for i, x := range list {
		w := m.stage(fmt.Sprintf("Part %d", i+1))
		x.strip(w)
		x.work(w)
		x.refit(w)
		if len(w.st.items) == 0 {
			w.say(m.line(m.words("record", "what lies there"), " in words"))
		}
	}
}
