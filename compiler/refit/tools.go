package refit

import (
	"math/big"
	"slices"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/verb"
)

// toolbox finds tools among those that the procedure lists.
type toolbox struct{ p *procedure.Procedure }

// choice is one tool of the list.
type choice struct {
	tool *procedure.Tool
	procedure.Choice
}

func (t toolbox) all() (list []choice) {
	for _, x := range t.p.Tools {
		for _, c := range x.Choices {
			list = append(list, choice{x, c})
		}
	}
	return list
}

// tag names a tool as a tag does: with its details where another has its name.
func (t toolbox) tag(c choice) string {
	name := c.Name
	for _, other := range t.all() {
		if other.tool != c.tool && procedure.Fold(other.Name) == procedure.Fold(c.Name) && c.Detail != "" {
			name = c.Name + ", " + c.Detail
			break
		}
	}
	return "{tool " + name + "}"
}

// with gives the words behind an act: " with the {tool hoist} and {tool web sling}".
func (t toolbox) with(list []choice) string {
	var tags []string
	for _, c := range list {
		if tag := t.tag(c); !slices.Contains(tags, tag) {
			tags = append(tags, tag)
		}
	}
	switch len(tags) {
	case 0:
		return ""
	case 1:
		return " with the " + tags[0]
	}
	return " with the " + strings.Join(tags[:len(tags)-1], ", ") + " and " + tags[len(tags)-1]
}

// usedFor gives the tools that an act was done with: those of its sentence, else of its step.
func (t toolbox) usedFor(a *procedure.Act) (list []choice) {
	if a == nil || a.Step == nil {
		return nil
	}
	var rest []choice
	for _, x := range a.Step.Acts {
		if x.Verb.Effect != verb.UseTool || x.Tool == nil || x.Choice >= len(x.Tool.Choices) {
			continue
		}
		c := choice{x.Tool, x.Tool.Choices[max(x.Choice, 0)]}
		if x.Sentence == a.Sentence {
			list = append(list, c)
		}
		rest = append(rest, c)
	}
	if len(list) > 0 {
		return list
	}
	return rest
}

func only(list []choice, is func(hardware.Tool) bool) []choice {
	return slices.DeleteFunc(slices.Clone(list), func(c choice) bool { return !is(c.Kind) })
}

func lifts(t hardware.Tool) bool { return t.Kind == hardware.Lifts }

// turner is a tool that turns a fastener by hand: the one that undid it, else one of the list that fits.
func (t toolbox) turner(p *procedure.Part, undone *procedure.Act) []choice {
	fits := t.fitting(p)
	if used := only(t.usedFor(undone), hardware.Tool.Turns); len(used) > 0 {
		for _, u := range used {
			if slices.ContainsFunc(fits, func(c choice) bool { return c.tool == u.tool }) {
				return []choice{u}
			}
		}
		if len(fits) == 0 {
			return used[:1]
		}
	}
	return fits[:min(1, len(fits))]
}

// fitting lists the tools that turn a part for sure.
func (t toolbox) fitting(p *procedure.Part) (list []choice) {
	takes, complete := hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware}.Takes()
	for _, c := range t.all() {
		if c.Kind.Turns() && c.Kind.FitsAny(takes, complete) == hardware.DoesFit {
			list = append(list, c)
		}
	}
	return list
}

// forTorque gives a wrench for the value and what goes between it and the fastener; ok is false where the list has no wrench.
func (t toolbox) forTorque(p *procedure.Part, value *quantity.Value, undone *procedure.Act) (list []choice, ok bool) {
	between := t.sockets(t.fitting(p))
	if len(between) == 0 { // nobody knows the size: what undid it, or a crowfoot of that size
		for _, u := range only(t.usedFor(undone), hardware.Tool.Turns) {
			for _, c := range t.sockets(t.all()) {
				if c.Kind.Size != nil && u.Kind.Size != nil && *c.Kind.Size == *u.Kind.Size {
					between = append(between, c)
				}
			}
		}
	}
	slices.SortStableFunc(between, func(a, b choice) int { return rank(a.Kind) - rank(b.Kind) })
	between = between[:min(1, len(between))]
	wrench, ok := t.wrench(value, len(between) > 0 && between[0].Kind.Crowfoot)
	if !ok {
		return nil, false
	}
	return append([]choice{wrench}, between...), true
}

// sockets gives the tools that a torque wrench takes: sockets, bits and crowfeet.
func (t toolbox) sockets(list []choice) []choice {
	return slices.DeleteFunc(slices.Clone(list), func(c choice) bool {
		name := procedure.Fold(c.Name)
		takes := slices.ContainsFunc([]string{"socket", "bit", "crowfoot", "crow foot"}, func(w string) bool { return strings.Contains(name, w) })
		return !takes || c.Kind.HexKey || !c.Kind.Turns()
	})
}

// rank puts a crowfoot behind a socket: it changes the setting.
func rank(k hardware.Tool) int {
	if k.Crowfoot {
		return 1
	}
	return 0
}

// wrench picks the smallest torque wrench whose range holds the value, one of which the value is a fifth of the capacity or more
// before others, and behind a crowfoot one whose length is written (ISO 6789-1 has wrenches tested from 20 % up, as the rule tool/out-of-range says).
func (t toolbox) wrench(value *quantity.Value, crowfoot bool) (best choice, ok bool) {
	score := func(c choice) (*big.Rat, bool) {
		if c.Kind.Range == nil || value == nil {
			return new(big.Rat), true
		}
		low, high := c.Kind.Range.SI()
		vl, vh := value.SI()
		if low == nil || high == nil || vl == nil || vh == nil || vl.Cmp(low) < 0 || vh.Cmp(high) > 0 {
			return nil, false
		}
		s := new(big.Rat).Set(high)
		if new(big.Rat).Mul(vl, big.NewRat(5, 1)).Cmp(high) < 0 {
			s.Add(s, big.NewRat(1000000, 1))
		}
		if crowfoot && c.Kind.Length == nil {
			s.Add(s, big.NewRat(10000000, 1))
		}
		if strings.Contains(c.Name, "beam") { // it reads a running torque, and clicks at none
			s.Add(s, big.NewRat(100000, 1))
		}
		return s, true
	}
	var least *big.Rat
	for _, c := range t.all() {
		if c.Kind.Kind != hardware.AppliesTorque {
			continue
		}
		if s, fits := score(c); fits && (least == nil || s.Cmp(least) < 0) {
			best, least, ok = c, s, true
		}
	}
	return best, ok
}

// angleGauge is a tool that reads an angle.
func (t toolbox) angleGauge() []choice {
	for _, c := range t.all() {
		if r := c.Kind.Range; c.Kind.Kind == hardware.Measures && r != nil && r.Unit.Kind == quantity.Angle {
			return []choice{c}
		}
	}
	return nil
}
