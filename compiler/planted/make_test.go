package planted_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
)

// made makes the procedure of a seed.
func made(seed uint64) *maker {
	m := &maker{given: map[string][]string{}, Rand: rand.New(rand.NewPCG(seed, 77)), d: &document{}, sites: slices.Clone(sites)}
	m.d.columns = []string{"Part", "Qty", "Spec", "Number", "Use", "Place", "Torque", "Layout", "Variant"}
	if m.chance(30) {
		m.Shuffle(len(m.d.columns), func(i, k int) { m.d.columns[i], m.d.columns[k] = m.d.columns[k], m.d.columns[i] })
	}
	m.machine()
	m.begin()
	m.stages()
	m.touch()
	m.d.settle()
	return m
}

// machine draws what the machine is made of.
func (m *maker) machine() {
	if m.chance(45) {
		m.fluid = m.fluidOf()
		m.modules = append(m.modules, m.fluid)
	}
	names, cocks := slices.Clone(hoses), slices.Clone(valves)
	for range m.IntN(3) {
		m.modules = append(m.modules, m.pipe(&names, &cocks))
	}
	for range 1 + m.IntN(2) {
		m.modules = append(m.modules, m.cover(nil, 0))
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.setter())
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.pinned())
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.sleeve())
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.flanges())
	}
	if m.chance(20) {
		m.modules = append(m.modules, m.ballast())
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.half())
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.changed())
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.bolted())
	}
	if m.chance(15) {
		m.modules = append(m.modules, m.often())
	}
	if m.chance(15) {
		m.modules = append(m.modules, &aside{m})
	}
}

func (m *maker) begin() {
	d := m.d
	n := 100 + m.IntN(900)
	d.front = []entry{
		{key: "title", value: pick(m, "Look after ", "Open and close ", "Inspect ") + "the " + pick(m, "winch", "pump", "sluice gear") + " of bay " + fmt.Sprint(n%17)},
		{key: "number", value: fmt.Sprintf("RT-%d", n)},
		{key: "revision", value: pick(m, "A", "B", "C", "1.10")},
	}
	if m.chance(50) {
		d.front = append(d.front, entry{key: "date", value: fmt.Sprintf("2026-%02d-%02d", 1+m.IntN(12), 1+m.IntN(28))})
	}
	if m.chance(50) {
		d.front = append(d.front, entry{key: "machine", value: pick(m, machines...)})
	}
	if m.heavy {
		d.front = append(d.front, entry{key: "people", value: "2"})
		d.intro = append(d.intro, pick(m, "> **WARNING** Heavy load. What slips off the hook crushes feet. Keep clear until it stands.",
			"> **WARNING**: Heavy load. It falls if the sling slips, and crushes. Stay out from under it."))
	}
	if len(m.kinds) > 0 {
		d.front = append(d.front, entry{key: "variants", value: "[" + strings.Join(m.kinds, ", ") + "]"})
	}
	for _, key := range []string{"starts", "leaves"} {
		if list := m.given[key]; len(list) > 0 {
			d.front = append(d.front, entry{key: key, value: "\n  - " + strings.Join(list, "\n  - ")})
		}
	}
	if m.chance(10) {
		d.front = append(d.front, entry{key: "each", value: "pump, 2"})
	}
	if m.chance(50) {
		d.intro = append([]string{"Done by the bay, with the machine at rest."}, d.intro...)
	}
}

// prop is what keeps the machine still or up while it is open: done first, undone last, in the reverse order.
type prop struct{ do, undo func(w *writer) }

func (m *maker) props() []prop {
	var all []prop
	if m.chance(60) {
		switchName := pick(m, isolators...)
		all = append(all, prop{
			func(w *writer) {
				w.alone(m.line(m.act("lock off", thing(switchName)), pick(m, "", " and press start")), m.line(m.words("check", pick(m, "the shaft does not turn", "nothing turns"))))
			},
			func(w *writer) {
				w.say(m.line(m.words("check", "nobody is at the machine")), m.line(m.words("tell", "the control room")), m.line(m.act("unlock", thing(switchName))))
			},
		})
	}
	if m.chance(25) {
		what := pick(m, "wheel chock", "timber wedge", "locking pin")
		all = append(all, prop{
			func(w *writer) { w.say(m.line(m.act("insert", things(2, what)), pick(m, "", " at the far side"))) },
			func(w *writer) { w.say(m.line(m.act("withdraw", things(2, what)))) },
		})
	}
	if m.chance(25) {
		m.d.intro = append(m.d.intro, "> **WARNING** Falling trailer. A jack alone lets go without notice, and the axle crushes. Stay out from under it.")
		jack, stand := m.toolOf("trolley jack", "2 t"), m.toolOf("axle stand", "2 t")
		all = append(all, prop{
			func(w *writer) {
				w.say(m.line(m.act("raise", thing("trailer")), " with the ", jack), m.line(m.act("support", thing("trailer")), " on the ", stand))
			},
			func(w *writer) {
				w.say(m.line(m.act("release", thing("trailer"))), m.line(m.act("lower", thing("trailer")), " with the ", jack))
			},
		})
	}
	return all
}

// stages writes the job: make safe, strip, look, refit, give back.
func (m *maker) stages() {
	props := m.props()
	if len(props) > 0 {
		w := m.stage("Make safe")
		for _, p := range props {
			p.do(w)
		}
	}
	m.openUp()
	w := m.stage("Give back")
	if m.fluid != nil {
		m.fluid.pour(w)
	}
	if m.curing {
		w.say(m.line(pick(m, m.words("await", "sealant cure"), m.words("await", "sealant cure, within 2 h"))))
	}
	for _, p := range slices.Backward(props) {
		p.undo(w)
	}
	w.say(m.line(m.words("check", pick(m, "the machine is dry after two runs", "the machine runs without a knock"))))
}

// openUp takes the machine apart, works on it and puts it together.
func (m *maker) openUp() {
	list := m.modules
	n := len(list)
	_, isCover := list[n-1].(*cover)
	if n > 1 && !(isCover && m.fluid != nil) && m.chance(20) { // what seals a fluid comes off behind the drain
		m.oneByOne(list[n-1:])
		list = list[:n-1]
	}
	w := m.stage(pick(m, "Strip", "Take apart"))
	for _, x := range list {
		x.strip(w)
	}
	w = m.stage(pick(m, "Look", "Inspect"))
	for _, x := range list {
		x.work(w)
	}
	if len(w.st.items) == 0 {
		w.say(m.line(m.words("record", "what lies in the housing"), " in words"))
	}
	w = m.stage(pick(m, "Refit", "Build up"))
	for _, x := range slices.Backward(list) {
		x.refit(w)
	}
}
