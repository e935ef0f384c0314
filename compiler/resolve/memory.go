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
	specs   memo[*hardware.Spec]
	torques memo[procedure.Torque]
	bullets memo[*bullet]
	names   memo[*name]
}

// bullet is a tool as it is listed, with all that can be told without the rest of the file.
type bullet struct {
	folded string
	whole  string // the same, figures apart from what follows
	sides  []side // of its "or"
	of     bool   // "of" stands in it: a plural of it does not end like one
}

// side is one side of the "or" of a bullet.
type side struct {
	at           int // where it begins in the bullet
	name, detail string
	spaced       string // the name, made fit to compare
	kind         hardware.Tool
}

func readBullet(text string) *bullet {
	folded := procedure.Fold(text)
	b := &bullet{folded: folded, whole: apartFigures(folded), of: strings.Contains(text, " of ")}
	for at := 0; at <= len(text); {
		end := strings.Index(text[at:], " or ")
		if end < 0 {
			end = len(text) - at
		}
		name, detail := cutDetail(strings.TrimSpace(text[at : at+end]))
		b.sides = append(b.sides, side{at, name, detail, spaced(name), hardware.ParseTool(name, detail)})
		at += end + len(" or ")
	}
	return b
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

// get reads a text, or gives what is known of it.
func (m *memo[V]) get(text string, read func(string) V) V {
	v, ok := m.of(text)
	if !ok {
		text = strings.Clone(text) // what is kept must not keep a whole file
		v = read(text)
		m.put(text, v)
	}
	return v
}

// spec reads a Spec cell, or knows it.
func (m *Memory) spec(cell string) *hardware.Spec {
	if m == nil {
		return hardware.ParseSpec(cell)
	}
	return m.specs.get(cell, hardware.ParseSpec)
}

// bullet reads a tool's bullet, or knows it.
func (m *Memory) bullet(text string) *bullet {
	if m == nil {
		return readBullet(text)
	}
	return m.bullets.get(text, readBullet)
}

// name gives the forms of a name, or knows them.
func (m *Memory) name(typed string) *name {
	if m == nil {
		return readName(typed)
	}
	return m.names.get(typed, readName)
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
