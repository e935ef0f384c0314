package assembly

import (
	"fmt"
	"io"
	"strings"

	"refitcard/compiler/procedure"
)

// state takes a picture of the machine.
func (l *ledger) state(step *procedure.Step) State {
	s := State{Step: step}
	for _, g := range l.groups {
		if g != nil && g.touched {
			l.partState(&s, g)
		}
	}
	for _, p := range l.p.Supplies {
		if f, ok := l.fluids[p]; ok && f.drained {
			s.Drained = append(s.Drained, p.Name.Value)
		}
	}
	for _, x := range l.sortedOpenings() {
		if !x.open {
			if x.first { // closed, and found open
				shut := x.opens.UndoneBy[0]
				s.Open = append(s.Open, Counted{Name: x.typed, N: 1, Of: 1, Why: shut, At: x.by.at, Step: x.by.step})
			}
			continue
		}
		if x.first || x.free {
			continue
		}
		n := max(x.n, 1)
		s.Open = append(s.Open, Counted{Name: x.typed, N: n, Of: max(x.most, n), Why: x.opens.Name, At: x.by.at, Step: x.by.step})
	}
	for _, t := range l.isolated {
		if t.is.on {
			s.Isolated = append(s.Isolated, t.is.typed)
		}
	}
	for _, t := range l.waits {
		if t.is.open {
			s.Running = append(s.Running, t.is.typed)
		}
	}
	for _, t := range l.marks {
		if t.is.open {
			s.Marked = append(s.Marked, t.is.typed)
		}
	}
	return s
}

func (l *ledger) partState(s *State, g *group) {
	p := g.part
	last := g.last.handled()
	c := Counted{Name: p.Name.Value, Of: p.Qty, Part: p, At: last.at, Step: last.step}
	if n := g.lying(); n > 0 {
		c.N, c.Why = n, "off"
		s.Off = append(s.Off, c)
	} else if missing := p.Qty - g.on(); missing > 0 && g.touched && p.Use != procedure.Add && p.Use != procedure.Omit {
		c.N, c.Why = missing, "off"
		s.Off = append(s.Off, c)
	}
	if p.Fastener() && !l.followsPartner(g) {
		for at := slack; at < final; at++ {
			if n := g.gripped(at); n > 0 {
				c.N, c.Why = n, at.String()
				s.Loose = append(s.Loose, c)
			}
		}
	}
	if n := g.count(func(u unit) bool { return u.place == scrap }); n > 0 {
		c.N, c.Why = n, "scrap"
		s.Scrap = append(s.Scrap, c)
	}
}

// Dump prints a state in one line a kind; nothing but "whole" when nothing stands other than in a whole machine.
func (s State) Dump(w io.Writer) {
	name := "start"
	if s.Step != nil {
		name = "after " + s.Step.Name()
	}
	var all []string
	counted := func(list []Counted) {
		for _, c := range list {
			all = append(all, fmt.Sprintf("%s %d of %d %s", c.Why, c.N, c.Of, c.Name))
		}
	}
	counted(s.Off)
	counted(s.Loose)
	counted(s.Scrap)
	counted(s.Open)
	for kind, list := range [][]string{s.Drained, s.Isolated, s.Running, s.Marked} {
		for _, n := range list {
			all = append(all, [...]string{"drained", "isolated", "running", "marked"}[kind]+" "+n)
		}
	}
	if len(all) == 0 {
		all = []string{"whole"}
	}
	fmt.Fprintf(w, "%s: %s\n", name, strings.Join(all, "; "))
}
