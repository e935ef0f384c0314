package refit

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
)

// settled is how tight fasteners are when they are in.
func settled(p *procedure.Part) string {
	if p.Torque.HandTight {
		return " hand-tight"
	}
	return " finger-tight"
}

// fasten puts fasteners in, their threads treated as their Spec asks.
func (w *writer) fasten(list []*op) {
	s := w.fresh(list[0].scope())
	for _, x := range list {
		if c, ok := w.coat(x.Part); ok {
			s.say("Coat the threads with %s.", c)
		}
	}
	s.say("{Install %s}%s.", objects(list), settled(list[0].Part))
}

// coats lists the words in the name of a supply that bring a condition of a thread about, as the rule torque/condition-unsupplied
// knows them.
func coats(condition string) []string {
	switch condition {
	case "threadlocker":
		return []string{"threadlock", "thread lock", "locking compound", "locking fluid", "anaerobic"}
	case "oiled":
		return []string{"oil", "lubricant", "grease"}
	case "anti-seize":
		return []string{"anti seize", "antiseize", "copper grease", "copper paste", "assembly paste", "assembly grease"}
	}
	return nil
}

// coat gives the tag of the supply that a thread asks for, once a supply. How much of it is for the writer to say.
func (w *writer) coat(p *procedure.Part) (tag string, ok bool) {
	for _, c := range p.Hardware.Condition {
		for _, s := range w.p.Supplies {
			name := procedure.Fold(s.Name.Value)
			if w.coated[s] || !slices.ContainsFunc(coats(c), func(word string) bool { return strings.Contains(name, word) }) {
				continue
			}
			w.coated[s] = true
			return "{supply " + s.Name.Value + "}", true
		}
	}
	return "", false
}

// tighten tightens fasteners to the table's value, or asks how tight they are to be.
func (w *writer) tighten(list []*op) {
	x := list[0]
	p, what := x.Part, objects(list)
	x.New = false
	t := p.Torque
	switch {
	case t.Value == nil && t.Angle == nil && t.HandTight:
		w.open(fastening, x.scope(), 1, fitting).say("{Snug %s} hand-tight.", what)
	case t.Value == nil && t.Angle == nil:
		with := w.tools.with(w.tools.turner(p, x.Act))
		s := w.open(fastening, x.scope(), 1)
		if t.BySetting {
			s.say("{Tighten %s}%s.", what, with)
			s.ask("what sets the %s, and within which limits?", p.Name.Value)
			return
		}
		s.say("{Tighten %s} until as tight as its maker says%s.", what, with)
		s.ask("how tight is the %s: which torque, or hand-tight?", p.Name.Value)
	default:
		w.torque(list, what)
	}
}

func (w *writer) torque(list []*op, what string) {
	x := list[0]
	p := x.Part
	tools, ok := w.tools.forTorque(p, p.Torque.Value, x.Act)
	acts := 1
	if slices.Contains(running(), p.Hardware.Nut) {
		acts = 2
	}
	s := w.open(fastening, x.scope(), acts)
	if !ok {
		s.ask("which torque wrench takes the %s?", p.Name.Value)
	}
	if acts == 2 {
		s.say("{Record the running torque of the %s}.", p.Name.Value)
	}
	if p.Torque.Value != nil || p.Torque.Angle == nil {
		s.say("{Torque %s%s%s}%s.", what, value(x), pattern(w.p, list), w.tools.with(tools))
	}
	if a := p.Torque.Angle; a != nil {
		between := tools[min(1, len(tools)):]
		s = w.open(fastening, x.scope(), 1)
		s.say("{Torque %s then %s%s}%s.", what, a.Text, order(pattern(w.p, list)), w.tools.with(append(between, w.tools.angleGauge()...)))
	}
}

// running lists the kinds of nuts that lock by a torque of their own, which is added to the table's (AC 43.13-1B, 7-40 and 7-64).
func running() []string { return []string{"nylon insert"} }

// order is a pattern without its passes.
func order(pattern string) string {
	words, _, _ := strings.Cut(pattern, " in 3 passes")
	return words
}
