package editor

import (
	"slices"
	"strconv"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// parts lists the declared parts; with their counts where a verb needs them.
func (c *cursor) parts(count bool) []Offer {
	var list []Offer
	for _, p := range c.v.Result.Proc.Parts {
		o := Offer{Text: p.Name.Value, Detail: "part " + p.Spec.Value, Note: c.v.partRow(p), Kind: ThingOffer}
		if count {
			o.Detail = "×" + strconv.Itoa(p.Qty)
		}
		list = append(list, o)
	}
	return list
}

func (c *cursor) supplies() []Offer {
	var list []Offer
	for _, s := range c.v.Result.Proc.Supplies {
		list = append(list, Offer{Text: s.Name.Value, Detail: "supply " + s.Detail, Note: c.v.supplyRow(s), Kind: ThingOffer})
	}
	return list
}

// tools lists the declared tools: those that turn the fastener of this step first, those that are sure not to at the end.
func (c *cursor) tools() []Offer {
	fasteners := c.fasteners()
	var best, rest, last []Offer
	for _, t := range c.v.Result.Proc.Tools {
		for _, choice := range t.Choices {
			o := Offer{Text: choice.Name, Detail: choice.Detail, Note: c.v.toolRow(t, choice), Kind: ThingOffer}
			if c.namesake(t, choice) && choice.Detail != "" {
				o.Text += ", " + choice.Detail
			}
			fits, fails := false, len(fasteners) > 0 && choice.Kind.Turns()
			for _, p := range fasteners {
				f := fit(choice, p)
				fits = fits || f == hardware.DoesFit
				fails = fails && f == hardware.DoesNotFit
			}
			switch {
			case fits:
				o.Detail = strings.TrimPrefix(o.Detail+", turns the "+fasteners[0].Name.Value, ", ")
				best = append(best, o)
			case fails:
				o.Detail = strings.TrimPrefix(o.Detail+", does not turn the "+fasteners[0].Name.Value, ", ")
				last = append(last, o)
			default:
				rest = append(rest, o)
			}
		}
	}
	return slices.Concat(best, rest, last)
}

// namesake tells whether another tool has the name, so that the details have to tell them apart.
func (c *cursor) namesake(t *procedure.Tool, choice procedure.Choice) bool {
	return slices.ContainsFunc(c.v.Result.Proc.Tools, func(o *procedure.Tool) bool {
		return o != t && slices.ContainsFunc(o.Choices, func(x procedure.Choice) bool {
			return procedure.Fold(x.Name) == procedure.Fold(choice.Name)
		})
	})
}

// fasteners lists the fasteners that the step at the cursor turns, those of the acts nearest before the cursor first.
func (c *cursor) fasteners() []*procedure.Part {
	step := c.v.stepAt(c.offset)
	if step == nil {
		return nil
	}
	var all []*procedure.Part
	for _, a := range slices.Backward(step.Acts) {
		for _, o := range a.Objects {
			if o.Part != nil && o.Part.Fastener() && a.Verb.Touches && a.At.Start < c.offset && len(all) == 0 {
				all = append(all, o.Part)
			}
		}
	}
	return all
}

func (c *cursor) variantOffers() []Offer {
	var list []Offer
	for _, t := range c.v.Result.Proc.Variants {
		list = append(list, Offer{Text: t.Value, Detail: "variant", Kind: ValueOffer})
	}
	return list
}

func (c *cursor) labelOffers(x *verb.Verb, body int) []Offer {
	if x.Effect != verb.Number {
		return nil
	}
	var list []Offer
	c.v.Result.Proc.EachStep(func(s *procedure.Step) {
		if s.Label.Set() {
			list = append(list, Offer{Text: s.Label.Value, Detail: "step " + s.Name() + " " + stepWords(s), Kind: ValueOffer})
		}
	})
	return c.objectOffers(body, list)
}

// waiveOffers lists the findings of this step that a waiver may let pass, then all such checks.
func (c *cursor) waiveOffers(body int) []Offer {
	if strings.Contains(c.word(body), ":") {
		return nil
	}
	step := c.v.stepAt(c.offset)
	var here, rest []Offer
	for _, f := range families() {
		for _, r := range f.Rules {
			if !r.Waivable {
				continue
			}
			o := Offer{Text: r.Name + ": ", Kind: CheckOffer}
			if t, err := f.Text(r.Name); err == nil {
				o.Detail = t.Title
			}
			found := false
			for _, x := range c.v.Result.Findings {
				found = found || x.Rule == r.Name && x.Step == step.Num()
			}
			if found {
				here = append(here, o)
			} else {
				rest = append(rest, o)
			}
		}
	}
	from := body + len(c.word(body)) - len(strings.TrimLeft(c.word(body), " "))
	return c.fitting(from, slices.Concat(here, rest))
}

func (c *cursor) fileOffers(body int) []Offer {
	from := body + len(c.word(body)) - len(strings.TrimLeft(c.word(body), " "))
	if c.v.Beside == nil {
		return nil
	}
	var list []Offer
	for _, name := range c.v.Beside() {
		if name != c.v.File.Path {
			list = append(list, Offer{Text: relative(c.v.File.Path, name), Kind: FileOffer})
		}
	}
	return c.fitting(from, list)
}

// relative gives a path of the library as a file names it.
func relative(from, to string) string {
	a, b := strings.Split(from, "/"), strings.Split(to, "/")
	for len(a) > 1 && len(b) > 1 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	return strings.Repeat("../", len(a)-1) + strings.Join(b, "/")
}

// toolOffers offers the tools that the fasteners of the table need and that are not in the list.
func (c *cursor) toolOffers() []Offer {
	var list []Offer
	for _, p := range c.v.Result.Proc.Parts {
		takes, _ := hardware.Fastener{Name: p.Name.Value, Spec: p.Hardware}.Takes()
		if !p.Fastener() || slices.ContainsFunc(c.v.Result.Proc.Tools, func(t *procedure.Tool) bool {
			return slices.ContainsFunc(t.Choices, func(x procedure.Choice) bool { return fit(x, p) == hardware.DoesFit })
		}) {
			continue
		}
		for _, x := range takes {
			if x.Sure {
				for _, name := range toolsOf(x.Size) {
					list = append(list, Offer{Text: name, Detail: "turns the " + p.Name.Value, Kind: ThingOffer})
				}
			}
		}
	}
	return c.fitting(c.offset-len(c.before)+len("- "), list)
}

// toolsOf names the tools of a size: one for the hand, one for a torque wrench.
func toolsOf(s hardware.Size) []string {
	switch s.System {
	case hardware.AcrossFlats:
		return []string{s.Typed + " socket", s.Typed + " ring spanner"}
	case hardware.HexKey:
		return []string{s.Typed + " hex key", s.Typed + " hex bit socket"}
	case hardware.Hexalobular:
		return []string{s.Typed + " bit socket"}
	case hardware.CrossRecess:
		return []string{s.Typed + " screwdriver"}
	}
	return nil
}
