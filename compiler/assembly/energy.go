package assembly

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// isolation is one energy source that was isolated.
type isolation struct {
	typed    string
	on       bool // isolated just now
	proved   bool // a check or measurement came since
	said     bool // that it was not proved
	by       handled
	restored handled // the act that gave the energy back
	told     bool    // that work followed the restoring
}

// energy isolates and restores.
func (l *ledger) energy(o *procedure.Object) {
	x := l.isolated.get(o.Name)
	if l.act.Verb.Effect == verb.Isolate {
		if x != nil && x.on { // a second lock on it
			return
		}
		if l.firstWork.act != nil && !l.everSafe {
			w := l.firstWork
			c := l.find("energy/isolated-late", l.at(o), []string{o.Typed, w.act.Verb.Name, objectWords(w.act)}, o.Name)
			c.fault.Related = w.related("work before")
		}
		l.everSafe = true
		l.isolated.put(o.Name, &isolation{typed: o.Typed, on: true, by: l.here(o)})
		return
	}
	switch {
	case x == nil:
		l.neverIsolated(o)
		return
	case !x.on:
		if l.underAnotherName(o.Name) {
			l.neverIsolated(o)
		}
		return // said twice
	}
	if !x.proved && !x.said {
		x.said = true
		l.notProved(x, o.Name)
	}
	x.on, x.restored = false, l.here(o)
	if l.lastWork.act != nil && !l.cleared {
		c := l.find("energy/not-cleared", l.at(o), []string{o.Typed}, o.Name+"\x00cleared")
		c.fault.Related = l.lastWork.related("last work")
		c.late = func() bool { return !x.told } // with work to follow it is given back too early, and that says it all
	}
}

func objectWords(a *procedure.Act) string {
	if len(a.Objects) == 0 {
		return ""
	}
	return a.Objects[0].Typed
}

func (l *ledger) neverIsolated(o *procedure.Object) {
	offer := ""
	names := []string{o.Name}
	var by handled
	for _, t := range l.isolated {
		if t.is.on && alike(t.name, o.Name) {
			offer, by = t.is.typed, t.is.by
			names = append(names, t.name)
		}
	}
	c := l.find("refit/never-opened", l.at(o), []string{o.Typed, l.act.Verb.Name, "lock off", offer}, names...)
	c.fault.Related = by.related("isolated")
}

// prove is told of every check and measurement.
func (l *ledger) prove() {
	for _, t := range l.isolated {
		t.is.proved = true
	}
}

func (l *ledger) notProved(x *isolation, name string) {
	c := l.find("energy/not-proved", x.by.at, []string{x.typed}, name+"\x00proved")
	if x.by.step != nil {
		c.fault.Step = x.by.step.Number
	}
}

// workedUnsafe looks at every act of work: is what was isolated proved, and is nothing given back?
func (l *ledger) workedUnsafe(a *procedure.Act, h handled) {
	told := true // all that there is to tell, as is usual
	for _, t := range l.isolated {
		x := t.is
		told = told && (!x.on || x.proved || x.said) && (x.on || x.told)
	}
	if told {
		return
	}
	for _, t := range l.isolated {
		x, name := t.is, t.name
		switch {
		case x.on && !x.proved && !x.said:
			x.said = true
			l.notProved(x, name)
		case !x.on && !x.told:
			if l.underAnotherName(name) {
				continue
			}
			x.told = true
			c := l.find("energy/restored-early", x.restored.at, []string{x.typed, a.Verb.Name, objectWords(a)}, name)
			c.fault.Related = h.related("work after")
			if x.restored.step != nil {
				c.fault.Step = x.restored.step.Number
			}
		}
	}
}

// underAnotherName tells whether something is isolated whose name is nearly this one.
func (l *ledger) underAnotherName(name string) bool {
	for _, t := range l.isolated {
		if t.is.on && alike(t.name, name) {
			return true
		}
	}
	return false
}

// energyEnds reports what is still isolated.
func (l *ledger) energyEnds(wanted map[string]bool) {
	for _, t := range l.isolated {
		x, name := t.is, t.name
		if !x.on {
			continue
		}
		if !x.proved && !x.said {
			l.notProved(x, name)
		}
		if wanted[name] {
			continue
		}
		c := l.find("energy/left-isolated", x.by.at, []string{x.typed}, name)
		c.act = x.by.act
		if x.by.step != nil {
			c.fault.Step = x.by.step.Number
		}
	}
}

// bleeding follows brake and hydraulic lines that were opened: filled again, they are to be bled.
type bleeding struct {
	line   handled
	typed  string
	opened bool
	due    bool // opened, and filled since
}

// bled notes a line that is opened.
func (l *ledger) bled(o *procedure.Object, v *verb.Verb) {
	if v.Name != "disconnect" && v.Name != "open" {
		return
	}
	if holdsAny(o.Name, "brake", "hydraulic") && holdsAny(o.Name, "line", "hose", "pipe", "union", "calliper", "cylinder") {
		l.bleeding.line, l.bleeding.typed, l.bleeding.opened = l.here(o), o.Typed, true
	}
}

func holdsAny(s string, words ...string) bool {
	for _, w := range words {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}
