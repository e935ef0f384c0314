package planted_test

import (
	"fmt"
	"slices"
	"strings"
)

// furtherFaults are slips between the families: a condition without its other way, a count that contradicts itself, a Spec that
// asks for more than the steps do.
func furtherFaults() []fault {
	return slices.Concat(conditionFaults(), specFaults(), actFaults())
}

func conditionFaults() []fault {
	return []fault{
		{
			name: "the other way is left out", rule: "refit/branches-differ",
			plant: func(p *plan) bool {
				for _, s := range p.d.steps() {
					if len(s.lead) == 0 || s.lead[0].kind != "otherwise" || !slices.ContainsFunc(s.tags(), func(t *tag) bool { return t.kind == "install" }) ||
						slices.ContainsFunc(s.tags(), func(t *tag) bool { return t.kind == "label" }) {
						continue
					}
					steps := p.d.steps()
					p.want.tag = steps[slices.Index(steps, s)-1].lead[0]
					p.remove(s)
					return true
				}
				return false
			},
		},
		{
			name: "the other way does nothing", rule: "refit/branches-differ",
			plant: func(p *plan) bool {
				steps := p.d.steps()
				for i, s := range steps {
					if i == 0 || len(s.lead) == 0 || s.lead[0].kind != "otherwise" || !slices.ContainsFunc(s.tags(), func(t *tag) bool { return t.kind == "install" }) ||
						slices.ContainsFunc(s.tags(), func(t *tag) bool { return t.kind == "label" }) {
						continue
					}
					s.sents = []*sentence{p.line(p.words("tell", "the foreman"))}
					p.want.tag = steps[i-1].lead[0]
					return true
				}
				return false
			},
		},
		{
			name: "a part that this variant lacks", rule: "part/unknown",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("remove"), func(h hit) bool { return h.o.row.name == "wind vane" }))
				if !ok {
					return false
				}
				h.s.lead = nil
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "the condition hangs on the taking off alone", rule: "refit/already-on", other: "refit/branches-differ",
			why: "the branch ends with the part off, and whoever skips it puts on what never came off: the compiler may tell of either",
			plant: func(p *plan) bool {
				for _, h := range where(p.d.hits("remove"), func(h hit) bool { return h.o.row.name == "mud flap" && len(h.s.lead) > 0 }) {
					in := of(p.d.hits("install"), h.o.row)
					if len(in) != 1 || in[0].s == h.s || !in[0].led || p.rowWhere(func(r *row) bool { return r.name == "flap cord" }) != nil {
						continue
					}
					in[0].s.lead = nil
					p.want.tag = h.s.lead[0]
					return true
				}
				return false
			},
		},
	}
}

func specFaults() []fault {
	return []fault{
		{
			name: "of another number", rule: "part/too-many",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("remove", "install"), func(h hit) bool { return h.o.style == "of" || h.o.style == "of the" }))
				if !ok {
					return false
				}
				h.o.of++
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a gasket is kept", rule: "part/single-use-kept",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return r.use == "replace" && (strings.HasSuffix(r.name, "gasket") || strings.HasSuffix(r.name, "O-ring") || r.name == "sealing washer" || r.name == "split pin") && p.count(r, "discard") == 0
				})
				if r == nil {
					return false
				}
				r.use, r.number = "reuse", ""
				for _, h := range of(p.d.hits("install"), r) {
					h.o.fresh, h.o.mark = false, "the "
				}
				p.want = place{row: r, words: "reuse"}
				return true
			},
		},
		{
			name: "a locking nut, and no word of its drag", rule: "torque/locking-nut",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "roller nut" })
				if r == nil || strings.Contains(r.spec, ",") {
					return false
				}
				r.spec, r.use, r.number = "M12 class 8 nylon insert hex", "if worn", "MD-77"
				p.want.tag = last(of(p.d.hits("torque"), r)).t
				return true
			},
		},
		{
			name: "a thread that is none", rule: "part/spec-not-understood",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return len(r.place) == 0 && !strings.Contains(r.spec, "M") && !strings.Contains(r.spec, "kg") && len(of(always(p.d.hits()), r)) == len(of(p.d.hits(), r))
				})
				if r == nil {
					return false
				}
				r.spec = pick(p.maker, "M8××30", "M8x", "M 8,5")
				p.want.row = r
				return true
			},
		},
		{
			name: "a torque that holds nothing", rule: "torque/slack",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "roller nut" && r.torque == "60 N·m" })
				if r == nil || strings.Contains(r.spec, ",") {
					return false
				}
				for _, h := range of(p.d.hits("torque"), r) {
					if strings.Contains(h.t.tail, "30 N·m") {
						return false
					}
					h.t.tail = " crosswise"
					for _, t := range h.x.tags() {
						if t.tool != nil && t.tool.name == "torque wrench" && p.uses(t.tool) > len(of(p.d.hits("torque"), r)) {
							return false // others need its range
						}
					}
				}
				for _, t := range of(p.d.hits("torque"), r)[0].x.tags() {
					if t.tool != nil && t.tool.name == "torque wrench" {
						t.tool.detail = "1–4 N·m"
					}
				}
				r.torque = "3 N·m (2.2 lbf·ft)"
				p.want.row = r
				return true
			},
		},
		{
			name: "a number in a stronger unit", rule: "torque/over-proof",
			plant: func(p *plan) bool { _, ok := p.otherUnit("kgf·m"); return ok },
		},
		{
			name: "a number in a weaker unit", rule: "tool/out-of-range",
			plant: func(p *plan) bool {
				r, ok := p.otherUnit("lbf·in")
				if ok {
					p.want = place{tag: of(p.d.hits("torque"), r)[0].t}
				}
				return ok
			},
		},
	}
}

// otherUnit puts another unit behind the number of a torque of the table.
func (p *plan) otherUnit(unit string) (*row, bool) {
	r := p.rowWhere(func(r *row) bool {
		if !isFastener(r) || !strings.HasSuffix(r.torque, " lbf·ft") || strings.ContainsAny(r.torque, "(±+.–") || strings.HasPrefix(r.name, "long ") || p.twin(r) || p.count(r, "torque") == 0 {
			return false
		}
		return len(where(of(p.d.hits("torque"), r), func(h hit) bool { return strings.Contains(h.t.tail, " to ") || strings.Contains(h.t.tail, "passes of") })) == 0
	})
	if r == nil {
		return nil, false
	}
	r.torque = strings.Replace(r.torque, "lbf·ft", unit, 1)
	p.want.row = r
	return r, true
}

// twin tells whether a row has one of another length beside it.
func (p *plan) twin(r *row) bool {
	return slices.ContainsFunc(p.d.parts, func(x *row) bool { return x.name == "long "+r.name })
}

func actFaults() []fault {
	return []fault{
		{
			name: "torqued before it is in", rule: "refit/already-off",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return torqued(r) && p.count(r, "install") == 1 && p.count(r, "torque") == 1 && p.count(r, "remove") > 0
				})
				if r == nil {
					return false
				}
				in, t := of(p.d.hits("install"), r)[0], of(p.d.hits("torque"), r)[0]
				if len(in.t.objs) > 1 || len(t.t.objs) > 1 || t.o.n > 0 && t.o.n < r.qty {
					return false
				}
				p.want.tag = t.t
				return swap(in, t)
			},
		},
		{
			name: "measured while it is slack", rule: "order/measured-early",
			plant: func(p *plan) bool {
				for i, it := range p.d.stageNamed("Strip", "Take apart").items {
					s, ok := it.(*step)
					if !ok || len(s.lead)+len(s.subs)+len(s.notes) > 0 {
						continue
					}
					for _, h := range where(p.d.hits("loosen"), func(h hit) bool { return h.s == s && h.x == s.sents[len(s.sents)-1] && len(h.t.objs) == 1 }) {
						part := map[string]string{"roller nut": "guide roller", "hose clip": "duct sleeve"}[h.o.row.name]
						if part == "" {
							continue
						}
						p.want.tag = p.words("measure", "the "+part+" height 3..5 mm, else tell the foreman")
						h.st.insert(i+1, &step{sents: []*sentence{p.line(p.want.tag, " with the ", p.toolOf("steel rule", "0–150 mm"))}})
						return true
					}
				}
				return false
			},
		},
		{
			name: "pressure that nobody lets out", rule: "energy/not-relieved",
			plant: func(p *plan) bool {
				if len(p.d.hits("lock off")) == 0 {
					return false
				}
				p.want.step = p.stray(p.d.stageNamed("Strip", "Take apart"), "mind the "+pick(p.maker, "accumulator", "loaded spring"))
				return true
			},
		},
		{
			name: "a brake line that is not bled", rule: "order/not-bled",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("disconnect"), func(h hit) bool { return h.o.free == "return line" }))
				if !ok || p.fluid == nil || p.fluid.sup.name != "hydraulic oil" {
					return false
				}
				for _, x := range p.d.hits("disconnect", "connect", "cap", "uncap") {
					if x.o.free == "return line" {
						x.o.free = "brake line"
					}
				}
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "nothing listed turns it", rule: "tool/none-fits",
			plant: func(p *plan) bool {
				all := slices.DeleteFunc(p.groups(), func(g *group) bool {
					return g.hand || len(where(p.d.hits("tool"), func(h hit) bool {
						return h.t.tool == g.offTool && !slices.ContainsFunc(h.x.tags(), func(t *tag) bool { return t.kind == "remove" })
					})) > 0
				})
				if len(all) == 0 {
					return false
				}
				g := pick(p.maker, all...)
				off := of(p.d.hits("remove"), g.row)
				if len(off) != 1 || len(off[0].t.objs) > 1 || off[0].s.acts() != len(off[0].t.objs) || len(p.d.stages) == 0 || p.fitsInStage(off[0].st, g) {
					return false
				}
				for _, t := range off[0].x.tags() {
					if t.tool != nil {
						t.becomes("strap")
					}
				}
				p.want.tag = off[0].t
				p.settle()
				return true
			},
		},
		{
			name: "waited for in a unit that is none", rule: "tag/bad-quantity", other: "tag/missing-quantity",
			why: "a number with no unit is no time: it may be called bad or missing",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("wait"))
				if !ok {
					return false
				}
				h.t.becomes("{wait " + fmt.Sprint(2+p.IntN(9)) + pick(p.maker, "", " jiffies") + "}")
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "the writer approves", rule: "file/approved-by-author",
			plant: func(p *plan) bool {
				p.d.front = append(p.d.front, entry{key: "author", value: "T. Wrenfield"}, entry{key: "approved", value: pick(p.maker, "T. Wrenfield", "t. wrenfield")})
				p.want.front = "approved"
				return true
			},
		},
	}
}

// fitsInStage tells whether a stage names, elsewhere than at the taking off of the group, a tool that may turn it.
func (p *plan) fitsInStage(st *stage, g *group) bool {
	return len(where(p.d.hits("tool"), func(h hit) bool {
		name := h.t.tool.name
		fits := turner(h.t.tool) && g.fits(h.t.tool) || strings.HasPrefix(name, "adjustable") || name == "pliers" || strings.HasSuffix(name, "crowfoot")
		here := slices.ContainsFunc(h.x.tags(), func(t *tag) bool {
			return t.kind == "remove" && slices.ContainsFunc(t.objs, func(o *object) bool { return o.row == g.row })
		})
		return h.st == st && fits && !here
	})) > 0
}

// settle takes tools out of the list that a change has left with no use.
func (p *plan) settle() {
	p.d.tools = slices.DeleteFunc(p.d.tools, func(t *tool) bool {
		return len(where(p.d.hits("tool"), func(h hit) bool { return h.t.tool == t && h.t.raw == "" })) == 0
	})
}
