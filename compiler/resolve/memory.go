package resolve

import (
	"strings"
	"sync"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
)

// Memory keeps what was read of the parts tables and lists of tools. The same cells and bullets stand in many procedures of a
// library, and nearly all of them in the next version of a file that is being written. It may be used from several goroutines,
// for one procedure after the other; a nil one keeps nothing.
type Memory struct {
	specs   memo[hardware.Spec]
	torques memo[procedure.Torque]
	tools   memo[side]
}

// side is one side of the "or" of a tool's bullet.
type side struct {
	name, detail string
	spaced       string // the name, made fit to compare
	kind         hardware.Tool
}

// memo keeps values by the text that they were read from. What it gives is shared: nobody may change what it points to.
type memo[V any] struct {
	mu    sync.RWMutex
	known map[string]V
}

// mostKnown bounds a memo, which begins anew when it is full. Ten thousand procedures have fewer specs and tools.
const mostKnown = 4096

// of gives what is known of a text.
func (m *memo[V]) of(text string) (V, bool) {
	m.mu.RLock()
	v, ok := m.known[text]
	m.mu.RUnlock()
	return v, ok
}

func (m *memo[V]) put(text string, v V) {
	m.mu.Lock()
	if m.known == nil || len(m.known) >= mostKnown {
		m.known = map[string]V{}
	}
	m.known[text] = v
	m.mu.Unlock()
}

// spec reads a Spec cell, or knows it.
func (m *Memory) spec(cell string) hardware.Spec {
	if m == nil {
		return hardware.ParseSpec(cell)
	}
	s, ok := m.specs.of(cell)
	if !ok {
		cell = strings.Clone(cell) // what is kept must not keep a whole file
		s = hardware.ParseSpec(cell)
		m.specs.put(cell, s)
	}
	return s
}

// side reads one side of a tool's bullet, or knows it.
func (m *Memory) side(text string) side {
	if m == nil {
		return readSide(text)
	}
	s, ok := m.tools.of(text)
	if !ok {
		text = strings.Clone(text)
		s = readSide(text)
		m.tools.put(text, s)
	}
	return s
}

func readSide(text string) side {
	name, detail := cutDetail(text)
	return side{name, detail, spaced(name), hardware.ParseTool(name, detail)}
}

// torque gives what is known of a Torque cell; its place is not.
func (m *Memory) torque(cell string) (procedure.Torque, bool) {
	if m == nil {
		return procedure.Torque{}, false
	}
	return m.torques.of(cell)
}

// keepTorque keeps what was read of a cell without a fault.
func (m *Memory) keepTorque(cell string, t procedure.Torque) {
	if m != nil {
		m.torques.put(cell, t)
	}
}
