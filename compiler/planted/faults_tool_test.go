package planted_test

import (
	"fmt"
	"slices"
	"strings"
)

// fits tells by the trade's sizes, other standards for the same heads among them, whether a tool may turn a group's fasteners.
func (g *group) fits(t *tool) bool {
	also := map[string][]string{ // low socket heads, the widths of DIN 931 and of JIS, heavy heads
		"M5": {"3 mm hex", "8 mm s"}, "M6": {"4 mm hex"}, "M8": {"5 mm hex"}, "M10": {"7 mm hex", "17 mm", "14 mm"},
		"M12": {"8 mm hex", "19 mm", "17 mm"}, "M16": {"12 mm hex", "27 mm", "22 mm"},
	}
	for _, s := range append([]string{g.size.hex + " ", g.size.key + " hex", g.size.star + " "}, also[g.size.thread]...) {
		if s != " " && strings.HasPrefix(t.name, s) {
			return true
		}
	}
	return strings.HasPrefix(t.name, "adjustable") || strings.HasSuffix(strings.Fields(t.name)[1], "in") != g.size.us
}

// groups gives the groups of fasteners of the machine.
func (p *plan) groups() []*group {
	var all []*group
	var within func(c *cover)
	within = func(c *cover) {
		all = append(all, c.groups...)
		if c.within != nil {
			within(c.within)
		}
	}
	for _, x := range p.modules {
		switch y := x.(type) {
		case *cover:
			within(y)
		case *flanges:
			all = append(all, y.g)
		case *half:
			all = append(all, y.g)
		}
	}
	return all
}

// turner tells whether a tool turns things of one size.
func turner(t *tool) bool {
	for _, w := range []string{" socket", " spanner", " open-end wrench", " hex key"} {
		if strings.HasSuffix(t.name, w) && !strings.HasPrefix(t.name, "32") {
			return true
		}
	}
	return false
}

// uses counts the tags of a tool.
func (p *plan) uses(t *tool) int {
	return len(where(p.d.hits("tool"), func(h hit) bool { return h.t.tool == t }))
}

func (p *plan) toolWhere(takes func(*tool) bool) *tool {
	able := slices.DeleteFunc(slices.Clone(p.d.tools), func(t *tool) bool { return !takes(t) })
	if len(able) == 0 {
		return nil
	}
	return pick(p.maker, able...)
}

func toolNamed(part string) func(*tool) bool {
	return func(t *tool) bool { return strings.Contains(t.name, part) }
}

// toolFaults are slips in the tools and in the supplies.
func toolFaults() []fault {
	return slices.Concat(listFaults(), fitFaults(), supplyFaults())
}

func listFaults() []fault {
	return []fault{
		{
			name: "a tool that is not listed", rule: "tool/not-listed",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("tool"), func(h hit) bool { return p.uses(h.t.tool) > 1 }))
				if !ok {
					return false
				}
				h.t.becomes("{tool " + pick(p.maker, "claw bar", "brass drift", "copper mallet") + "}")
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a tool is misspelt", rule: "tool/not-listed",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("tool"))
				if !ok {
					return false
				}
				i := 1 + p.IntN(len(h.t.tool.name)-2)
				for h.t.tool.name[i] < 'a' || h.t.tool.name[i] > 'z' || h.t.tool.name[i] == h.t.tool.name[i-1] {
					if i++; i == len(h.t.tool.name) {
						return false
					}
				}
				name := h.t.tool.name[:i] + h.t.tool.name[i+1:]
				for _, t := range p.d.tools {
					if t.name == name {
						return false
					}
				}
				h.t.becomes("{tool " + name + "}")
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a tool is left out of the list", rule: "tool/not-listed",
			plant: func(p *plan) bool {
				t := p.toolWhere(func(t *tool) bool { return t.name != "torque wrench" })
				if t == nil || len(p.d.tools) < 2 {
					return false
				}
				p.d.tools = slices.DeleteFunc(p.d.tools, func(x *tool) bool { return x == t })
				p.want.tag = where(p.d.hits("tool"), func(h hit) bool { return h.t.tool == t })[0].t
				return true
			},
		},
		{
			name: "a tool that nobody uses", rule: "tool/not-used",
			plant: func(p *plan) bool {
				t := &tool{name: pick(p.maker, "brass drift", "wire brush", "36 mm socket")}
				p.d.tools = slices.Insert(p.d.tools, p.IntN(len(p.d.tools)+1), t)
				p.want.tool = t
				return true
			},
		},
		{
			name: "a tool is listed twice", rule: "tool/repeated",
			plant: func(p *plan) bool {
				t := p.toolWhere(func(*tool) bool { return true })
				if t == nil {
					return false
				}
				again := *t
				p.d.tools = append(p.d.tools, &again)
				p.want.tool = &again
				return true
			},
		},
		{
			name: "two wrenches, and nobody says which", rule: "tool/ambiguous",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("tool"), func(h hit) bool { return h.t.tool.name == "torque wrench" }))
				n := 0
				for _, t := range p.d.tools {
					if t.name == "torque wrench" {
						n++
					}
				}
				if !ok || n < 2 {
					return false
				}
				h.t.becomes("{tool torque wrench}")
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a wrench has no range", rule: "tool/no-range",
			plant: func(p *plan) bool {
				t := p.toolWhere(func(t *tool) bool { return t.name == "torque wrench" || t.name == "feeler gauge" })
				if t == nil || strings.Contains(t.detail, "300 mm") {
					return false
				}
				for _, x := range p.d.tools {
					if x != t && x.name == t.name {
						return false
					}
				}
				t.detail = ""
				p.want.tool = t
				return true
			},
		},
		{
			name: "no torque wrench at all", rule: "tool/no-torque-wrench",
			plant: func(p *plan) bool {
				t := p.d.hits("torque")
				if len(t) == 0 || p.toolWhere(toolNamed("crowfoot")) != nil {
					return false
				}
				for _, h := range p.d.hits("tool") {
					if h.t.tool.name == "torque wrench" {
						h.t.becomes("steady pull")
					}
				}
				p.d.tools = slices.DeleteFunc(p.d.tools, func(t *tool) bool { return t.name == "torque wrench" })
				p.want.tag = t[0].t
				return true
			},
		},
		{
			name: "the length of the crowfoot is not given", rule: "tool/adapter-unset",
			plant: func(p *plan) bool {
				t := p.toolWhere(toolNamed("crowfoot"))
				if t == nil {
					return false
				}
				t.detail = ""
				h := of(p.d.hits("torque"), p.rowWhere(func(r *row) bool { return r.name == "jam nut" }))
				p.want.tag = h[0].t
				return true
			},
		},
	}
}

func fitFaults() []fault {
	return []fault{
		{
			name: "a tool of another size", rule: "tool/does-not-fit",
			plant: func(p *plan) bool {
				all := p.groups()
				if len(all) == 0 {
					return false
				}
				g := pick(p.maker, all...)
				if g.hand {
					return false
				}
				wrong := p.toolWhere(func(t *tool) bool { return turner(t) && !g.fits(t) })
				h, ok := p.one(where(p.d.hits("tool"), func(h hit) bool {
					turned := of(p.d.hits("remove"), g.row)
					return h.t.tool == g.offTool && p.uses(g.offTool) > 1 && slices.ContainsFunc(turned, func(x hit) bool { return x.x == h.x }) && p.turnsOnly(h, g)
				}))
				if wrong == nil || !ok {
					return false
				}
				h.t.tool, h.t.long = wrong, false
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a hex key takes no torque", rule: "tool/key-cannot-torque",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool { return isFastener(h.o.row) && !strings.HasPrefix(h.t.tail, " then ") }))
				if !ok {
					return false
				}
				for _, t := range h.x.tags() {
					if t.tool == nil || !strings.HasSuffix(t.tool.name, " hex bit socket") || p.uses(t.tool) != 1 {
						continue
					}
					bit := t.tool
					t.tool = p.toolOf(strings.Replace(bit.name, "hex bit socket", "hex key", 1), "")
					p.d.tools = slices.DeleteFunc(p.d.tools, func(x *tool) bool { return x == bit })
					p.want.tag = h.t
					return true
				}
				return false
			},
		},
		{
			name: "a wrench that does not reach", rule: "tool/out-of-range",
			plant: func(p *plan) bool {
				t := p.toolWhere(func(t *tool) bool { return t.name == "torque wrench" && !strings.Contains(t.detail, "300") })
				if t == nil {
					return false
				}
				t.detail = pick(p.maker, "1–3 ", "400–900 ") + lastWord(t.detail)
				for _, h := range p.d.hits("torque") {
					if slices.ContainsFunc(h.x.tags(), func(x *tag) bool { return x.tool == t }) {
						p.want.tag = h.t
						return true
					}
				}
				return false
			},
		},
		{
			name: "the hoist is too weak", rule: "tool/rating",
			plant: func(p *plan) bool {
				t := p.toolWhere(toolNamed("hoist"))
				heavy := p.heavyParts()
				if t == nil || len(heavy) != 1 {
					return false // each part that is too heavy is told of
				}
				t.detail = "20 kg"
				p.want.tag = where(p.d.hits("tool"), func(h hit) bool { return h.t.tool == t })[0].t
				return true
			},
		},
		{
			name: "the pan runs over", rule: "tool/too-small",
			plant: func(p *plan) bool {
				t := p.toolWhere(toolNamed("drain pan"))
				each := slices.ContainsFunc(p.d.front, func(e entry) bool { return e.key == "each" })
				if t == nil || each && !strings.Contains(p.fluid.sup.detail, "drains") {
					return false // done at each of two pumps, the list has the oil of both
				}
				t.detail = "1 L"
				p.want.tag = p.d.hits("drain")[0].t
				return true
			},
		},
	}
}

// heavyParts gives the parts that need a hoist.
func (p *plan) heavyParts() []*row {
	return slices.DeleteFunc(slices.Clone(p.d.parts), func(r *row) bool { return len(r.spec) < 5 || !strings.HasSuffix(r.spec, "kg") || r.spec < "25" })
}

// turnsOnly tells whether a sentence turns no other fasteners.
func (p *plan) turnsOnly(h hit, g *group) bool {
	for _, x := range p.d.hits("remove", "install", "loosen", "tighten", "torque") {
		if x.s == h.s && x.o.row != g.row {
			return false
		}
	}
	return true
}

func supplyFaults() []fault {
	return []fault{
		{
			name: "a supply that nobody uses", rule: "supply/not-used",
			plant: func(p *plan) bool {
				s := &supply{name: "white spirit", qty: "1 L"}
				p.d.supplies = append(p.d.supplies, s)
				p.want.sup = s
				return true
			},
		},
		{
			name: "a supply that is not listed", rule: "supply/not-listed",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("supply"))
				if !ok {
					return false
				}
				h.t.becomes("{supply 2 mL bearing blue}")
				p.want.tag = h.t
				for _, s := range p.d.supplies {
					if s == h.t.sup && len(where(p.d.hits("supply"), func(x hit) bool { return x.t.sup == s })) < 2 {
						return false // the listed one would be left over
					}
				}
				return h.t.sup.name != "threadlocker"
			},
		},
		{
			name: "the list has too little", rule: "supply/short",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("supply"), func(h hit) bool { return h.t.sup.spent > 1 }))
				if !ok {
					return false
				}
				s := h.t.sup
				s.qty = strings.TrimSpace(fmt.Sprintf("%d %s", s.spent-1, s.unit))
				p.want.sup = s
				return true
			},
		},
		{
			name: "more is poured in than is listed", rule: "supply/short",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("fill"), func(h hit) bool { return strings.Contains(h.t.tail, " L ") }))
				if !ok {
					return false
				}
				p.want.sup = h.t.sup
				h.t.sup.qty = "1 L"
				return true
			},
		},
		{
			name: "how much is not said", rule: "supply/no-quantity",
			plant: func(p *plan) bool {
				if len(p.d.supplies) == 0 {
					return false
				}
				s := pick(p.maker, p.d.supplies...)
				s.qty, s.detail = "", ""
				p.want.sup = s
				return true
			},
		},
	}
}
