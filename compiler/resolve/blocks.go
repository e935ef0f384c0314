package resolve

import (
	"sort"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// layout takes a drawing in. Its parts are those that name it in their Layout column, the part that it is named after, the
// fasteners that hold the part it is named after, or those of its letters.
func (r *resolver) layout(l *syntax.Layout, s *procedure.Step) {
	if r.names == nil { // it stands among the declarations: its parts are known when all of them are
		r.named = append(r.named, func() { r.layout(l, s) })
		return
	}
	made := &procedure.Layout{At: l.At, Name: procedure.Text{Value: l.Name, At: l.NameAt}, Step: s}
	for _, other := range r.p.Layouts {
		if procedure.Fold(other.Name.Value) != procedure.Fold(l.Name) {
			continue
		}
		if other.At.File != l.At.File && strings.Join(strings.Fields(other.At.Text()), " ") != strings.Join(strings.Fields(l.At.Text()), " ") {
			r.differs("layout", made.Name, other.Name.At)
		}
		if other.At.File != l.At.File {
			return
		}
	}
	byLetter := r.letters(l)
	for _, p := range l.Places {
		made.Places = append(made.Places, procedure.LayoutPlace{X: p.X, Y: p.Y, Order: p.Order, Part: byLetter[p.Mark], At: p.At})
	}
	var marks []int
	for m := range byLetter {
		marks = append(marks, int(m))
	}
	sort.Ints(marks)
	for _, m := range marks {
		if p := byLetter[byte(m)]; p != nil {
			made.Parts = append(made.Parts, p)
		}
	}
	if len(made.Parts) == 0 {
		made.Parts = r.laidOut(l.Name)
	}
	r.p.Layouts = append(r.p.Layouts, made)
	if s != nil {
		s.Own().Layouts = append(s.Layouts, made)
	}
	r.countLayout(l, made)
}

// letters finds the part of each letter.
func (r *resolver) letters(l *syntax.Layout) map[byte]*procedure.Part {
	found := map[byte]*procedure.Part{}
	var marks []int
	for m := range l.Names {
		marks = append(marks, int(m))
	}
	sort.Ints(marks)
	for _, m := range marks {
		name := l.Names[byte(m)]
		p := r.partNamed(name)
		if p == nil {
			r.fault("part/unknown", l.NameOf[byte(m)], name, near(name, r.names.typed(isPart)), "part", "")
			continue
		}
		found[byte(m)] = p
	}
	return found
}

// laidOut finds the parts that a layout without letters is of.
func (r *resolver) laidOut(name string) []*procedure.Part {
	var named, holders []*procedure.Part
	target := r.partNamed(name)
	for _, p := range r.p.Parts {
		if p.Layout.Set() && procedure.Fold(p.Layout.Value) == procedure.Fold(name) {
			named = append(named, p)
		}
		for _, rel := range p.Places {
			if rel.Kind == procedure.Holds && target != nil && rel.Part == target && p.Fastener() {
				holders = append(holders, p)
			}
		}
	}
	switch {
	case len(named) > 0:
		return named
	case len(holders) > 0:
		return holders[:1]
	case target != nil:
		return []*procedure.Part{target}
	}
	return nil
}

// countLayout holds the number of places against the table, by part where letters tell them apart.
func (r *resolver) countLayout(l *syntax.Layout, made *procedure.Layout) {
	fault := func(part string, drawn, declared int) {
		f := r.fault("torque/layout-count", l.NameAt, l.Name, part)
		f.Counts, f.Thing = []int{drawn, declared}, part
	}
	if len(l.Names) > 0 {
		for _, p := range made.Parts {
			n := 0
			for _, place := range made.Places {
				if place.Part == p {
					n++
				}
			}
			if n != p.Qty {
				fault(p.Name.Value, n, p.Qty)
			}
		}
		return
	}
	if len(made.Parts) == 0 {
		fault("", len(made.Places), 0)
		return
	}
	total := 0
	for _, p := range made.Parts {
		total += p.Qty
		if len(p.Twins) > 0 { // variants may differ: any of their counts will do
			for _, t := range p.Twins {
				if t.Qty == len(made.Places) {
					return
				}
			}
		}
	}
	if total != len(made.Places) {
		fault(made.Parts[0].Name.Value, len(made.Places), total)
		return
	}
	r.orderLayout(l, made)
}

// orderLayout holds the numbers of a drawing whose places are all numbered: each from 1 to the last stands there once.
func (r *resolver) orderLayout(l *syntax.Layout, made *procedure.Layout) {
	first := make([]*procedure.LayoutPlace, len(made.Places)+1)
	var odd *procedure.LayoutPlace // the first one whose number is taken or too high
	for i := range made.Places {
		switch p := &made.Places[i]; {
		case p.Order == 0:
			return
		case p.Order >= len(first) || first[p.Order] != nil:
			if odd == nil {
				odd = p
			}
		default:
			first[p.Order] = p
		}
	}
	if odd == nil {
		return
	}
	missing := 1
	for first[missing] != nil {
		missing++
	}
	f := r.fault("torque/layout-count", odd.At, l.Name, made.Parts[0].Name.Value, "number")
	f.Counts, f.Thing = []int{odd.Order, missing, len(made.Places)}, made.Parts[0].Name.Value
	if odd.Order < len(first) {
		f.Related = []source.Related{{At: first[odd.Order].At, Words: "the other"}}
	}
}

// stack takes a pile in: "8 filter disc alternating with 7 spacer ring".
func (r *resolver) stack(s *syntax.Stack, step *procedure.Step) {
	if r.names == nil { // it stands among the declarations: its layers are known when all of them are
		r.named = append(r.named, func() { r.stack(s, step) })
		return
	}
	made := &procedure.Stack{At: s.At, Name: procedure.Text{Value: s.Name, At: s.NameAt}, TargetAt: s.TarAt, Step: step}
	for _, other := range r.p.Stacks {
		if procedure.Fold(other.Name.Value) == procedure.Fold(s.Name) && other.At.File != s.At.File {
			if strings.Join(strings.Fields(other.At.Text()), " ") != strings.Join(strings.Fields(s.At.Text()), " ") {
				r.differs("stack", made.Name, other.Name.At)
			}
			return
		}
	}
	if s.Target != "" {
		v, bad := quantity.ParseLimit(s.Target)
		if bad != nil {
			r.fault(bad.Fault, s.TarAt.File.At(s.TarAt.Start+bad.Start, s.TarAt.Start+bad.End), bad.Words...)
		} else {
			made.Target = &v
		}
	}
	for _, line := range s.Lines {
		for i, side := range strings.Split(line.Text, " alternating with ") {
			at := line.At
			if i > 0 {
				from := line.At.Start + strings.Index(line.Text, " alternating with ") + len(" alternating with ")
				at = line.At.File.At(from, from+len(side))
			} else {
				at.End = at.Start + len(side)
			}
			layer, ok := r.layer(strings.TrimSpace(side), at)
			if ok {
				layer.At, layer.Alternates = at, i > 0
				made.Layers = append(made.Layers, layer)
			}
		}
	}
	r.p.Stacks = append(r.p.Stacks, made)
	if step != nil {
		step.Own().Stacks = append(step.Stacks, made)
	}
}

func (r *resolver) layer(s string, at source.Span) (procedure.Layer, bool) {
	r.words = tokens(r.words[:0], s)
	t := r.words
	layer := procedure.Layer{Count: 1}
	i := 0
	if len(t) > 0 {
		if _, n := r.names.match(t, 0, isPart); n == 0 {
			if n, ok := countOf(t[0].text); ok {
				layer.Count, i = n, 1
			}
		}
	}
	e, n := r.names.match(t, i, isPart)
	if n == 0 || i+n != len(t) {
		name := s
		if i < len(t) {
			name = s[t[i].start:]
			at.Start += t[i].start
		}
		r.fault("part/unknown", at, name, near(name, r.names.typed(isPart)), "part", "")
		return layer, false
	}
	layer.Part = e.part
	return layer, true
}
