package compare

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// thing is a bullet of tools or supplies while the lists are compared.
type thing struct {
	name    string // folded: what the bullet is about
	title   string // what the change is said to be about
	meaning string // all of it
	shown   string
	at      source.Span
}

func toolThings(p *procedure.Procedure) (all []thing) {
	for _, t := range p.Tools {
		all = append(all, thing{procedure.Fold(t.Choices[0].Name), "tool", gist(t.Whole), plain(t.Whole), t.At})
	}
	return all
}

func (c *comparison) tools() { c.things(Tool, toolThings(c.old), toolThings(c.now)) }

// toolNames gives what the tools of the old version are called in the new one: a tool that only got other details is the same
// tool, and is told of once, for the list.
func toolNames(old, now *procedure.Procedure) map[*procedure.Tool]string {
	names := map[*procedure.Tool]string{}
	for i, j := range paired(toolThings(old), toolThings(now)) {
		if j >= 0 {
			names[old.Tools[j]] = gist(now.Tools[i].Whole)
		}
	}
	return names
}

func (c *comparison) supplies() {
	list := func(p *procedure.Procedure) (all []thing) {
		for _, s := range p.Supplies {
			f := together(value(s.Quantity, ""), phrase(s.Detail), "\x00")
			shown := s.Name.Value
			switch {
			case s.Quantity != nil:
				shown += ", " + s.Quantity.Running()
			case s.Count > 0:
				shown += fmt.Sprintf(", %d", s.Count)
			}
			if s.Detail != "" {
				shown += ", " + plain(s.Detail)
			}
			meaning := fmt.Sprint(f.meaning, s.Count, s.FromMachine, value(s.Drains, "").meaning)
			if s.FromMachine {
				shown += ", from the machine"
			}
			if s.Drains != nil {
				shown += ", drains " + s.Drains.Running()
			}
			all = append(all, thing{procedure.Fold(s.Name.Value), "supply", meaning, shown, s.At})
		}
		return all
	}
	c.things(Supply, list(c.old), list(c.now))
}

// paired gives for each entry of a new list its place in the old one, -1 for none: equal entries first, then those of one name
// in their order.
func paired(old, now []thing) []int {
	oldOf := slices.Repeat([]int{-1}, len(now))
	used := make([]bool, len(old))
	match := func(fits func(o, n thing) bool) {
		for i, n := range now {
			for j, o := range old {
				if oldOf[i] < 0 && !used[j] && fits(o, n) {
					oldOf[i], used[j] = j, true
				}
			}
		}
	}
	match(func(o, n thing) bool { return o.name == n.name && o.meaning == n.meaning })
	match(func(o, n thing) bool { return o.name == n.name })
	return oldOf
}

// things compares two lists.
func (c *comparison) things(kind Kind, old, now []thing) {
	oldOf := paired(old, now)
	for i, n := range now {
		if oldOf[i] < 0 {
			c.add(Change{Kind: kind, What: n.title, Now: n.shown, At: n.at})
			continue
		}
		o := old[oldOf[i]]
		c.differ(kind, n.title, field{o.meaning, o.shown}, field{n.meaning, n.shown}, o.at, n.at)
	}
	for j, o := range old {
		if !slices.Contains(oldOf, j) {
			c.add(Change{Kind: kind, What: o.title, Was: o.shown, OldAt: o.at})
		}
	}
}

// drawings compares layouts and stacks by name.
func (c *comparison) drawings() {
	list := func(p *procedure.Procedure) (all []thing) {
		for _, l := range p.Layouts {
			all = append(all, thing{"layout " + procedure.Fold(l.Name.Value), "layout " + l.Name.Value, layout(l), fmt.Sprintf("%d places", len(l.Places)), l.At})
		}
		for _, s := range p.Stacks {
			f := stack(s)
			all = append(all, thing{"stack " + procedure.Fold(s.Name.Value), "stack " + s.Name.Value, f.meaning, f.shown, s.At})
		}
		return all
	}
	c.things(Drawing, list(c.old), list(c.now))
}

// layout is where the fasteners sit, counted from the first column and line that hold one.
func layout(l *procedure.Layout) string {
	x, y := 1<<30, 1<<30
	for _, p := range l.Places {
		x, y = min(x, p.X), min(y, p.Y)
	}
	var all []string
	for _, p := range l.Places {
		part := ""
		if p.Part != nil {
			part = procedure.Fold(p.Part.Name.Value)
		}
		all = append(all, fmt.Sprint(p.X-x, " ", p.Y-y, " ", p.Order, " ", part))
	}
	return strings.Join(all, "\x00")
}

func stack(s *procedure.Stack) field {
	f := value(s.Target, "")
	for _, l := range s.Layers {
		name := ""
		if l.Part != nil {
			name = l.Part.Name.Value
		}
		between := "; "
		if l.Alternates {
			between = " alternating with "
		}
		words := procedure.CountName(l.Count, name)
		f = together(f, field{fmt.Sprint(l.Alternates, procedure.Fold(words)), words}, between)
	}
	return f
}
