package planted_test

import (
	"fmt"
	"strings"
)

// fluid is what a machine holds, with the plug that lets it out.
type fluid struct {
	m      *maker
	sup    *supply
	litres float64
	plug   *row
	washer *row
	filler *row
	socket *tool
	wrench *tool
	pan    *tool
	value  float64
}

func (m *maker) fluidOf() *fluid {
	f := &fluid{m: m, litres: pick(m, 1.4, 2, 3.5, 6)}
	name := pick(m, "gear oil", "hydraulic oil", "pump water", "coolant")
	f.sup = &supply{name: name, plural: name, qty: fmt.Sprintf("%g L", f.litres), detail: pick(m, "", "from the machine", "ISO VG 220")}
	if m.chance(30) {
		f.sup.detail = join(", ", f.sup.detail, fmt.Sprintf("drains %g L", f.litres-0.2))
	}
	m.d.supplies = append(m.d.supplies, f.sup)
	type plug struct {
		spec, hex string
		value     float64
	}
	p := pick(m, plug{"M14×1.5", "17 mm", 25}, plug{"M16×1.5", "24 mm", 45}, plug{"M22×1.5", "27 mm", 60})
	f.plug = m.row(row{name: "drain plug", qty: 1, spec: p.spec + " hex " + p.hex, place: []string{"seals " + name}, torque: fmt.Sprintf("%g N·m", p.value)})
	f.washer = m.row(row{name: "sealing washer", qty: 1, spec: "copper", use: "replace", place: []string{"seals " + name}})
	if m.chance(50) {
		f.washer.place = append([]string{"behind drain plug"}, f.washer.place...)
	}
	if m.chance(40) {
		f.filler = m.row(row{name: "filler plug", qty: 1, spec: "brass", place: []string{"fills " + name}, torque: "hand-tight"})
	}
	f.value = p.value
	f.socket = m.toolOf(p.hex+" socket", "")
	f.wrench = m.wrenchFor(p.value, "N·m")
	f.pan = m.toolOf("drain pan", pick(m, "8 L", "15 L"))
	return f
}

func (f *fluid) strip(w *writer) {
	m := f.m
	off := []*sentence{m.line(m.act("remove", m.all(f.plug), m.all(f.washer)), " with the ", f.socket)}
	if m.chance(30) {
		off = []*sentence{m.sentence(m.c(m.act("remove", m.all(f.plug)), " with the ", f.socket), m.c(m.act("remove", m.all(f.washer))))}
	}
	list := append([]*sentence{m.line("put the ", f.pan, " under the machine")}, off...)
	out := m.words("drain", "the "+f.sup.name)
	out.sup = f.sup
	w.alone(append(list, m.line(out))...)
	w.apart = m.chance(50)
}

func (f *fluid) work(*writer) {}

func (f *fluid) refit(w *writer) {
	m := f.m
	w.say(m.line(m.act("install", fresh(m.all(f.washer)), m.all(f.plug))))
	t := m.act("torque", m.all(f.plug))
	t.tail = pick(m, "", fmt.Sprintf(" to %g N·m", f.value))
	w.say(m.line(t, " with the ", f.wrench, " and ", f.socket))
}

// pour fills it again; all that seals it is on and tight by then.
func (f *fluid) pour(w *writer) {
	m := f.m
	if f.filler != nil {
		w.say(m.line(m.act("remove", m.all(f.filler)), " by hand"))
	}
	in := m.act("fill")
	in.sup = f.sup
	in.tail = pick(m, " the "+f.sup.name, fmt.Sprintf(" %g L %s", f.litres, f.sup.name), fmt.Sprintf(" %g L of %s", f.litres, f.sup.name))
	w.say(m.line(in, pick(m, "", " slowly")))
	if f.filler != nil {
		w.say(m.line(m.act("install", m.all(f.filler)), " hand-tight"))
	}
	if m.chance(60) {
		rule := m.toolOf("steel rule", "0–150 mm")
		w.say(m.line(m.words("wait", pick(m, "5 min", "10 min"))),
			m.line(m.words("measure", "oil level 12..18 mm, else top up"), " with the ", rule))
	}
}

// line is a hose or a cable that comes off, and may be capped meanwhile.
type pipe struct {
	m      *maker
	name   string
	port   string // where it belongs
	capped bool
	wrench *tool
	shut   string // a valve that is shut meanwhile
}

func (m *maker) pipe(names, cocks *[]string) *pipe {
	p := &pipe{m: m, name: take(m, names), capped: m.chance(50)}
	p.port = p.name[:len(p.name)-len(lastWord(p.name))] + "port"
	if m.chance(40) {
		p.wrench = m.toolOf("32 mm open-end wrench", "")
	}
	if m.chance(40) && len(*cocks) > 0 {
		p.shut = take(m, cocks)
	}
	return p
}

func (p *pipe) with(t *tag) clause {
	if p.wrench == nil {
		return p.m.c(t, pick(p.m, "", " by hand"))
	}
	return p.m.c(t, " with the ", p.wrench)
}

func (p *pipe) strip(w *writer) {
	m := p.m
	if p.shut != "" {
		w.say(m.line(m.act("close", thing(p.shut))))
	}
	w.say(m.line(p.with(m.act("disconnect", thing(p.name)))))
	if p.capped {
		w.say(m.line(m.act("cap", thing(p.name), thing(p.port)), " with ", m.spend("plastic cap", "", "", 2)))
	}
}

func (p *pipe) work(*writer) {}

func (p *pipe) refit(w *writer) {
	m := p.m
	if p.capped {
		w.say(m.line(m.act("uncap", thing(p.name), thing(p.port))))
	}
	w.say(m.line(p.with(m.act("connect", thing(p.name)))))
	if p.shut != "" {
		w.say(m.line(m.act("open", thing(p.shut)), pick(m, "", " slowly")))
	}
}

// setter is a nut that a measurement sets, with a jam nut that locks it.
type setter struct {
	m         *maker
	nut, lock *row
	wrench    *tool
	foot      *tool
	torque    *tool
}

func (m *maker) setter() *setter {
	s := &setter{m: m}
	s.nut = m.row(row{name: "tension nut", qty: 1, spec: "M8 hex", torque: "by setting"})
	s.lock = m.row(row{name: "jam nut", qty: 1, spec: "M8 jam hex", torque: "15 N·m", place: []string{"locks tension nut"}})
	s.wrench = m.toolOf("13 mm open-end wrench", "")
	s.foot = m.toolOf("13 mm crowfoot", "25 mm")
	for _, t := range m.d.tools {
		if t.name == "torque wrench" && t.detail == "5–50 N·m, 300 mm" {
			s.torque = t
		}
	}
	if s.torque == nil {
		s.torque = m.toolOf("torque wrench", "5–50 N·m, 300 mm")
	}
	return s
}

func (s *setter) strip(w *writer) {
	m := s.m
	w.say(m.line(m.act("loosen", m.all(s.lock), m.all(s.nut)), " with the ", s.wrench))
}

func (s *setter) work(*writer) {}

func (s *setter) refit(w *writer) {
	m := s.m
	w.say(m.line(m.act("tighten", m.all(s.nut)), " with the ", s.wrench))
	rule := m.toolOf("steel rule", "0–150 mm")
	w.say(m.line(m.words("measure", "belt play 8..12 mm, else set it again"), " with the ", rule))
	w.say(m.line(m.act("torque", m.all(s.lock)), " with the ", s.torque, " and ", s.foot))
}

// pinned is a lever on a castle nut that a split pin locks.
type pinned struct {
	m               *maker
	lever, nut, pin *row
	socket, torque  *tool
}

func (m *maker) pinned() *pinned {
	p := &pinned{m: m}
	p.lever = m.row(row{name: "release lever", qty: 1, use: pick(m, "", "if worn")})
	p.nut = m.row(row{name: "lever nut", qty: 1, spec: "M16 castle hex 24 mm", torque: "90..120 N·m", place: []string{"holds release lever"}})
	p.pin = m.row(row{name: "split pin", qty: 1, spec: "4 by 45", use: "replace", place: []string{"locks lever nut"}})
	p.socket = m.toolOf("24 mm socket", "")
	p.torque = m.wrenchFor(105, "N·m")
	return p
}

func (p *pinned) strip(w *writer) {
	m := p.m
	w.say(m.line(m.act("remove", m.all(p.pin)), " with the ", m.toolOf("pliers", "")))
	w.say(m.sentence(m.c(m.act("remove", m.all(p.nut)), " with the ", p.socket), m.c(m.act("remove", m.all(p.lever)))))
}

func (p *pinned) work(w *writer) {
	if p.m.chance(50) {
		w.say(p.m.line(p.m.words("check", "the release lever is not cracked")))
	}
}

func (p *pinned) refit(w *writer) {
	m := p.m
	w.say(m.line(m.act("install", m.all(p.lever), m.all(p.nut))))
	s := w.say(m.line(m.act("torque", m.all(p.nut)), " with the ", p.torque, " and ", p.socket))
	s.notes = append(s.notes, "Go on only until the slot meets the hole.")
	w.say(m.line(m.act("install", fresh(m.all(p.pin))), pick(m, "", " through the nut")))
}

// sleeve is a part that clips clamp: slack is enough to free it.
type sleeve struct {
	m          *maker
	row, clips *row
	driver     *tool
}

func (m *maker) sleeve() *sleeve {
	s := &sleeve{m: m}
	s.row = m.row(row{name: "duct sleeve", qty: 1, use: pick(m, "", "if worn", "replace")})
	s.clips = m.row(row{name: "hose clip", qty: pick(m, 2, 2, 4), spec: "hex 7 mm", torque: "by setting", place: []string{"clamps duct sleeve"}})
	s.driver = m.toolOf("7 mm nut driver", "")
	return s
}

func (s *sleeve) strip(w *writer) {
	m := s.m
	w.say(m.line(m.act("loosen", m.all(s.clips)), " with the ", s.driver))
	w.say(m.line(m.act("remove", m.all(s.row))))
}

func (s *sleeve) work(*writer) {}

func (s *sleeve) refit(w *writer) {
	m := s.m
	o := m.all(s.row)
	if s.row.use == "replace" {
		o = fresh(o)
	}
	w.say(m.line(m.act("install", o)))
	w.say(m.line(m.act("tighten", m.all(s.clips)), " with the ", s.driver))
}

// flanges are two alike, of which one is opened: half of what holds them.
type flanges struct {
	m      *maker
	g      *group
	row    *row
	gasket *row
}

func (m *maker) flanges() *flanges {
	f := &flanges{m: m}
	f.row = m.row(row{name: "pipe flange", qty: 2, spec: pick(m, "", "4 kg")})
	f.g = m.group(f.row, "flange bolt", pick(m, 4, 8, 12))
	f.gasket = m.row(row{name: "flange seal", qty: 2, spec: "fibre", use: "if worn", place: []string{"behind pipe flange"}})
	return f
}

func (f *flanges) half() *object {
	return &object{row: f.g.row, n: f.g.row.qty / 2, style: pick(f.m, "digits", "words")}
}

func (f *flanges) one(r *row, isNew bool) *object {
	return &object{row: r, n: 1, style: pick(f.m, "digits", "words"), fresh: isNew}
}

func (f *flanges) strip(w *writer) {
	m := f.m
	w.say(m.line(f.g.with(m.act("remove", f.half()), f.g.offTool)))
	w.say(m.line(m.act("remove", f.one(f.row, false), f.one(f.gasket, false))))
}

func (f *flanges) work(w *writer) {
	if f.m.chance(50) {
		w.say(f.m.line(f.m.words("clean", "the pipe"), " with the ", f.m.toolOf("bottle brush", "")))
	}
}

func (f *flanges) refit(w *writer) {
	m := f.m
	w.say(m.line(m.act("install", f.one(f.gasket, true), f.one(f.row, false))))
	f.g.in(w, f.half())
	if f.g.hand {
		return
	}
	t := m.act("torque", f.half())
	t.tail = " crosswise"
	turn := m.act("torque", f.half())
	if f.g.form == "tag" {
		t.tail = fmt.Sprintf(" to %g %s crosswise", f.g.value, f.g.unit)
	}
	w.say(m.line(t, " with the ", f.g.wrench, " and ", f.g.bits))
	if f.g.form == "angle" {
		turn.tail = fmt.Sprintf(" then %d°", f.g.degrees)
		w.say(m.line(turn, " with the ", f.g.bits))
	}
}

func lastWord(s string) string { return s[strings.LastIndexByte(s, ' ')+1:] }
