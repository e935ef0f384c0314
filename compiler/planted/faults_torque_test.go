package planted_test

import (
	"fmt"
	"slices"
	"strings"
)

// torqueFaults are slips in torques, patterns and drawings.
func torqueFaults() []fault {
	return []fault{
		{
			name: "more than the table says", rule: "torque/differs-from-table",
			plant: func(p *plan) bool { return p.otherTorque(2) },
		},
		{
			name: "less than the table says", rule: "torque/differs-from-table",
			plant: func(p *plan) bool { return p.otherTorque(0.8) },
		},
		{
			name: "foot-pounds for newton metres", rule: "torque/differs-from-table",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool {
					return strings.HasPrefix(h.t.tail, " to ") && strings.Count(h.t.tail, "N·m") == 1 && torqued(h.o.row) && p.count(h.o.row, "torque") == 1 && !strings.Contains(h.t.tail, "(")
				}))
				if !ok {
					return false
				}
				h.t.tail = strings.Replace(h.t.tail, "N·m", "lbf·ft", 1)
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "a unit that is none", rule: "torque/bad-unit",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return torqued(r) && !strings.ContainsAny(r.torque, "(±+.–") })
				if r == nil {
					return false
				}
				number, _, _ := strings.Cut(r.torque, " ")
				r.torque = number + pick(p.maker, " lb", " ft/lb")
				p.want.row = r
				return true
			},
		},
		{
			name: "a table no bolt can bear", rule: "torque/over-proof",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return isFastener(r) && torqued(r) && !strings.ContainsAny(r.torque, "(±+.–") && len(where(of(p.d.hits("torque"), r), func(h hit) bool { return strings.Contains(h.t.tail, " to ") || strings.Contains(h.t.tail, "passes of") })) == 0
				})
				if r == nil {
					return false
				}
				number, unit, _ := strings.Cut(r.torque, " ")
				r.torque = number + "0 " + unit
				p.want.row = r
				return true
			},
		},
		{
			name: "passes that fall", rule: "torque/passes",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool { return strings.Contains(h.t.tail, "passes of ") }))
				if !ok {
					return false
				}
				before, after, _ := strings.Cut(h.t.tail, "passes of ")
				first, rest, _ := strings.Cut(after, ", ")
				second, tail, _ := strings.Cut(rest, " ")
				second, comma := strings.CutSuffix(second, ",")
				if comma {
					tail = ", " + tail
				} else {
					tail = " " + tail
				}
				h.t.tail = before + "passes of " + second + ", " + first + tail
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "the last pass falls short", rule: "torque/passes",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool { return strings.Contains(h.t.tail, "passes of ") }))
				if !ok {
					return false
				}
				words := strings.Fields(h.t.tail)
				i := slices.IndexFunc(words, func(w string) bool { return w == "of" })
				unit := words[len(words)-1]
				if unit != "N·m" && unit != "lbf·ft" {
					return false
				}
				h.t.tail = " " + strings.Join(words[:i+1], " ") + " " + strings.Trim(words[i+1], ",") + ", " + strings.Trim(words[i+2], ",") + " " + unit
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "no order for the torque", rule: "torque/no-pattern",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool {
					return h.o.row.qty >= 4 && h.o.n >= 4 && p.heldBy(h.o.row) != nil && p.heldBy(h.o.row).qty == 1 && h.o.row.layout == "" && len(h.t.objs) == 1 && h.o.row.name != "roller nut"
				}))
				if !ok {
					return false
				}
				was := h.t.tail
				for _, w := range []string{" crosswise", " from the centre", " in order"} {
					h.t.tail = strings.Replace(h.t.tail, w, "", 1)
				}
				p.want.tag = h.t
				return was != h.t.tail
			},
		},
		{
			name: "one place too few is drawn", rule: "torque/layout-count",
			plant: func(p *plan) bool {
				x := p.drawing()
				if x == nil || len(x.lines) > 2 {
					return false
				}
				i := strings.LastIndex(x.lines[1], "o")
				x.lines[1] = x.lines[1][:i]
				p.want = place{}
				p.d.wholly = func(s string) string {
					p.want.line = x.line
					return s
				}
				return true
			},
		},
		{
			name: "two lengths and no drawing", rule: "part/mixed-lengths",
			plant: func(p *plan) bool {
				x := p.drawing()
				if x == nil || len(x.lines) < 3 {
					return false
				}
				for _, st := range p.d.stages {
					st.items = slices.DeleteFunc(st.items, func(it any) bool { return it == any(x) })
				}
				long := p.rowWhere(func(r *row) bool { return r.layout == x.name && strings.HasPrefix(r.name, "long ") })
				for _, r := range p.d.parts {
					if r.layout == x.name {
						r.layout = ""
						for _, h := range of(p.d.hits("torque"), r) {
							if !strings.HasPrefix(h.t.tail, " then") && !strings.Contains(h.t.tail, "crosswise") && !strings.Contains(h.t.tail, "centre") && !strings.Contains(h.t.tail, "in order") {
								h.t.tail += " crosswise"
							}
						}
					}
				}
				p.want.row = long
				return true
			},
		},
		{
			name: "no threadlocker", rule: "torque/condition-unsupplied",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("supply"), func(h hit) bool { return h.t.sup.name == "threadlocker" }))
				if !ok || len(where(p.d.hits("supply"), func(h hit) bool { return h.t.sup.name == "threadlocker" })) > 1 {
					return false
				}
				r := p.rowWhere(func(r *row) bool { return strings.HasSuffix(r.spec, "threadlocker") && p.count(r, "torque") > 0 })
				if r == nil {
					return false
				}
				t := of(p.d.hits("torque"), r)
				p.want.tag = last(t).t
				p.d.supplies = slices.DeleteFunc(p.d.supplies, func(s *supply) bool { return s == h.t.sup })
				p.drop(h)
				return true
			},
		},
		{
			name: "a slot that one value can't meet", rule: "torque/castle-no-range",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "lever nut" })
				if r == nil {
					return false
				}
				r.torque = "105 N·m"
				p.want.row = r
				return true
			},
		},
		{
			name: "the wrench reads another unit", rule: "torque/other-unit",
			plant: func(p *plan) bool {
				t := p.toolWhere(func(t *tool) bool {
					return t.name == "torque wrench" && !strings.Contains(t.detail, "300") && strings.HasSuffix(t.detail, "N·m")
				})
				if t == nil {
					return false
				}
				h := where(p.d.hits("torque"), func(h hit) bool { return slices.ContainsFunc(h.x.tags(), func(x *tag) bool { return x.tool == t }) })
				if len(h) != 1 || strings.Contains(h[0].t.tail+h[0].o.row.torque, "(") {
					return false
				}
				var low, high int
				if _, err := fmt.Sscanf(strings.Replace(t.detail, "–", " ", 1), "%d %d", &low, &high); err != nil {
					return false
				}
				t.detail = fmt.Sprintf("%d–%d lbf·ft", low*3/4, high*3/4)
				if p.toolWhere(func(x *tool) bool { return x != t && x.detail == t.detail }) != nil {
					return false
				}
				p.want.tag = h[0].t
				return true
			},
		},
		{
			name: "tightened, and how tight is not said", rule: "torque/none",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "tension nut" })
				if r == nil {
					return false
				}
				r.torque = ""
				h := of(p.d.hits("tighten"), r)
				if said := h[0].s.text(); strings.Contains(said, "play") || strings.Contains(said, "hand") || strings.Contains(said, "finger") {
					return false // words of the step may say how tight
				}
				p.want.tag = h[0].t
				return true
			},
		},
	}
}

// drawing gives a layout block of the job.
func (p *plan) drawing() *drawing {
	var all []*drawing
	for _, st := range p.d.stages {
		for _, it := range st.items {
			if x, ok := it.(*drawing); ok {
				all = append(all, x)
			}
		}
	}
	if len(all) == 0 {
		return nil
	}
	return pick(p.maker, all...)
}

// otherTorque writes another torque into a tag than the table has.
func (p *plan) otherTorque(factor float64) bool {
	h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool {
		return strings.HasPrefix(h.t.tail, " to ") && torqued(h.o.row) && p.count(h.o.row, "torque") == 1 && !strings.Contains(h.t.tail, "passes of") && !strings.ContainsAny(h.o.row.torque, "(±–+") && !strings.Contains(h.o.row.torque, "..")
	}))
	if !ok {
		return false
	}
	words := strings.Fields(h.t.tail)
	var value float64
	if _, err := fmt.Sscanf(words[1], "%g", &value); err != nil {
		return false
	}
	words[1] = fmt.Sprintf("%.0f", value*factor)
	h.t.tail = " " + strings.Join(words, " ")
	p.want.tag = h.t
	return true
}
