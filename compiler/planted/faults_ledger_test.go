package planted_test

import (
	"slices"
	"strings"
)

func isFastener(r *row) bool {
	return len(r.place) > 0 && strings.HasPrefix(r.place[0], "holds ") && r.qty > 1 && !strings.HasPrefix(r.name, "roller ") // put in twice
}

// torqued tells whether the table has a value for the row.
func torqued(r *row) bool {
	return r.torque != "" && r.torque != "hand-tight" && r.torque != "by setting"
}

func (p *plan) count(r *row, kinds ...string) int { return len(of(p.d.hits(kinds...), r)) }

// ledgerFaults are slips in what comes off and goes on.
func ledgerFaults() []fault {
	return []fault{
		{
			name: "a part never goes back", rule: "refit/left-off",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return r.variant == "" && !isFastener(r) && r.use != "add" && p.count(r, "remove") == 1 && len(of(always(p.d.hits("install")), r)) == 1 && p.count(r, "install") == 1 && p.count(r, "torque") == 0
				})
				if r == nil {
					return false
				}
				h := of(p.d.hits("install"), r)[0]
				if len(where(p.d.hits("remove", "discard"), func(x hit) bool { return x.o.row == r && !x.led })) == 0 {
					return false
				}
				p.want.tag = last(of(p.d.hits("remove", "discard"), r)).t
				p.drop(h)
				return true
			},
		},
		{
			name: "fasteners never go back", rule: "refit/left-off",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return isFastener(r) && p.count(r, "remove") > 0 })
				if r == nil || p.count(r, "install") == 0 {
					return false
				}
				p.want.tag = last(of(p.d.hits("remove"), r)).t
				for _, h := range of(p.d.hits("install", "torque"), r) {
					p.drop(h)
				}
				return true
			},
		},
		{
			name: "put in and never torqued", rule: "refit/not-torqued",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return torqued(r) && p.count(r, "install") > 0 })
				if r == nil {
					return false
				}
				p.want.tag = last(of(p.d.hits("install", "snug"), r)).t
				for _, h := range of(p.d.hits("torque"), r) {
					p.drop(h)
				}
				return true
			},
		},
		{
			name: "the angle is never given", rule: "torque/differs-from-table",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool { return strings.HasPrefix(h.t.tail, " then ") }))
				if !ok {
					return false
				}
				p.want.tag = of(p.d.hits("torque"), h.o.row)[0].t
				p.drop(h)
				return true
			},
		},
		{
			name: "an angle without its torque", rule: "torque/angle-without-torque",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool { return strings.HasPrefix(h.t.tail, " then ") }))
				if !ok {
					return false
				}
				p.want.tag = h.t
				p.drop(of(p.d.hits("torque"), h.o.row)[0])
				return true
			},
		},
		{
			name: "one too few come off", rule: "order/held",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("remove"), func(h hit) bool {
					return isFastener(h.o.row) && h.o.n == h.o.row.qty && p.heldBy(h.o.row).qty == 1 && p.count(p.heldBy(h.o.row), "remove") == 1
				}))
				if !ok {
					return false
				}
				h.o.n, h.o.style = h.o.n-1, "digits"
				p.want.tag = of(p.d.hits("remove"), p.heldBy(h.o.row))[0].t
				return true
			},
		},
		{
			name: "more come off than there are", rule: "part/too-many",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("remove")), func(h hit) bool { return h.o.row.qty > 1 && h.o.n == h.o.row.qty && h.o.row.variant == "" }))
				if !ok {
					return false
				}
				h.o.n, h.o.style = h.o.n+1, "digits"
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "one too few go in and are torqued", rule: "refit/left-off",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return isFastener(r) && len(where(of(p.d.hits("install", "torque"), r), func(h hit) bool { return h.o.n != r.qty })) == 0 && p.count(r, "torque") > 0 && p.count(r, "install") == 1
				})
				if r == nil {
					return false
				}
				for _, h := range of(p.d.hits("install", "torque"), r) {
					h.o.n, h.o.style = r.qty-1, "digits"
				}
				p.want.tag = last(of(p.d.hits("install"), r)).t // the act that is short of one
				return true
			},
		},
		{
			name: "one too few are put in", rule: "refit/left-off",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("install"), func(h hit) bool { return isFastener(h.o.row) && h.o.n == h.o.row.qty }))
				if !ok || p.count(h.o.row, "torque") == 0 {
					return false
				}
				h.o.n, h.o.style = h.o.n-1, "digits"
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "one too few are torqued", rule: "refit/not-torqued",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("torque"), func(h hit) bool {
					return isFastener(h.o.row) && torqued(h.o.row) && h.o.n == h.o.row.qty && p.count(h.o.row, "torque") == 1
				}))
				if !ok {
					return false
				}
				h.o.n, h.o.style = h.o.n-1, "digits"
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "the list has one more than the steps", rule: "order/held",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("remove"), func(h hit) bool {
					return isFastener(h.o.row) && h.o.row.layout == "" && p.heldBy(h.o.row).qty == 1 && p.count(p.heldBy(h.o.row), "remove") == 1 && p.count(h.o.row, "remove") == 1 && p.plainCounts(h.o.row)
				}))
				if !ok {
					return false
				}
				h.o.row.qty++
				p.want.tag = of(p.d.hits("remove"), p.heldBy(h.o.row))[0].t
				return true
			},
		},
		{
			name: "a cover comes off before what holds it", rule: "order/held",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return isFastener(r) && p.heldBy(r).qty == 1 && p.count(r, "remove") > 0 })
				if r == nil {
					return false
				}
				cover := of(p.d.hits("remove"), p.heldBy(r))
				if len(cover) == 0 {
					return false
				}
				p.want.tag = cover[0].t
				return swap(last(of(p.d.hits("remove"), r)), cover[0])
			},
		},
		{
			name: "fasteners go in before what they hold", rule: "order/held",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return isFastener(r) && p.heldBy(r).qty == 1 && p.count(r, "install") > 0 })
				if r == nil {
					return false
				}
				cover, in := of(p.d.hits("install"), p.heldBy(r)), of(p.d.hits("install"), r)[0]
				if len(cover) == 0 || len(in.t.objs) > 1 {
					return false
				}
				p.want.tag = in.t
				return swap(in, cover[0])
			},
		},
		{
			name: "what lies behind comes off first", rule: "order/behind",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return p.inFront(r) != nil && p.count(r, "remove") == 1 && p.count(p.inFront(r), "remove") == 1
				})
				if r == nil {
					return false
				}
				h, front := of(p.d.hits("remove"), r)[0], of(p.d.hits("remove"), p.inFront(r))[0]
				p.want.tag = h.t
				for _, o := range append(slices.Clone(h.t.objs), front.t.objs...) {
					if p.count(o.row, "discard") > 0 {
						return false // the scrapping would come before the taking off: a second slip
					}
				}
				return swap(h, front)
			},
		},
		{
			name: "a cover goes on before what lies behind it", rule: "order/behind",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool {
					return p.inFront(r) != nil && p.count(r, "install") == 1 && p.count(p.inFront(r), "install") == 1
				})
				if r == nil {
					return false
				}
				front := p.inFront(r)
				if !swap(of(p.d.hits("install"), r)[0], of(p.d.hits("install"), front)[0]) {
					return false
				}
				on := false // of all that lies behind, the first that comes too late is told of
				for _, h := range p.d.hits("install") {
					if on && p.liesBehind(h.o.row, front) {
						p.want.tag = h.t
						return true
					}
					on = on || h.o.row == front
				}
				return false
			},
		},
		{
			name: "torqued before the others are in", rule: "order/torqued-early",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("install"), func(h hit) bool {
					return isFastener(h.o.row) && torqued(h.o.row) && p.count(h.o.row, "install") == 2 && p.count(h.o.row, "torque") == 1 && !strings.Contains(h.o.row.torque, "°")
				}))
				if !ok {
					return false
				}
				in, t := of(p.d.hits("install"), h.o.row), of(p.d.hits("torque"), h.o.row)[0]
				if len(t.t.objs) > 1 {
					return false
				}
				t.o.n, t.o.style = in[0].o.n, "digits"
				t.t.tail = " crosswise"
				p.want.tag = t.t
				list := &sentence{clauses: []clause{slices.Clone(t.x.clauses[t.clauseOf()])}}
				again := &tag{kind: "torque", verb: "torque", objs: []*object{{row: h.o.row, n: in[1].o.n, style: "digits"}}, tail: " crosswise"}
				for _, f := range list.clauses[0] {
					f.tag = cloneTag(f.tag)
				}
				for i, f := range list.clauses[0] {
					if f.tag == t.t {
						list.clauses[0][i].tag = again
					}
				}
				at := slices.Index(in[1].s.sents, in[1].x)
				if in[1].s == t.s || in[1].s == in[0].s || len(in[1].s.lead) > 0 {
					return false
				}
				// the torque of the first ones moves before the second ones go in, whose own torque stays behind
				moved := t.x
				t.s.sents[slices.Index(t.s.sents, t.x)] = list
				in[1].s.sents = slices.Insert(in[1].s.sents, at, moved)
				return true
			},
		},
		{
			name: "taken off twice", rule: "refit/already-off", other: "part/too-many",
			why: "with every unit off a step handles more than are there: both rules say so",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("remove")), func(h hit) bool { return h.o.n == 0 || h.o.n == h.o.row.qty }))
				if !ok || p.count(h.o.row, "remove") != 1 || h.o.row.use == "add" {
					return false
				}
				t := &tag{kind: "remove", verb: "remove", objs: []*object{h.o}}
				p.want.tag = t
				h.s.sents = slices.Insert(h.s.sents, slices.Index(h.s.sents, h.x)+1, &sentence{clauses: []clause{{{tag: t}}}})
				return true
			},
		},
		{
			name: "put on twice", rule: "refit/already-on", other: "part/too-many",
			why: "with every unit on a step handles more than are there: both rules say so",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("install")), func(h hit) bool { return h.o.row.use != "add" && (h.o.n == 0 || h.o.n == h.o.row.qty) }))
				if !ok || h.o.row.name == "filler plug" || h.o != h.t.objs[len(h.t.objs)-1] {
					return false
				}
				t := &tag{kind: "install", verb: "install", objs: []*object{h.o}}
				p.want.tag = t
				h.x.clauses = slices.Insert(h.x.clauses, h.clauseOf()+1, clause{{tag: t}})
				h.x.joints = append(h.x.joints, ", then ")
				return true
			},
		},
		{
			name: "the old one goes back", rule: "refit/old-part-back",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("install")), func(h hit) bool {
					return h.o.row.use == "replace" && h.o.fresh && p.count(h.o.row, "discard") == 0 && p.count(h.o.row, "install") == 1
				}))
				if !ok {
					return false
				}
				h.o.fresh = false
				if h.o.mark == "a " {
					h.o.mark = "the "
				}
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "scrapped, and the old one goes back", rule: "refit/used-after-scrap",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("install")), func(h hit) bool { return h.o.fresh && len(of(always(p.d.hits("discard")), h.o.row)) == 1 }))
				if !ok {
					return false
				}
				h.o.fresh, h.o.old, h.o.mark = false, true, "the "
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "new of what is not on the pick list", rule: "part/use-differs",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("install")), func(h hit) bool { return (h.o.row.use == "" || h.o.row.use == "reuse") && !h.o.fresh }))
				if !ok {
					return false
				}
				h.o = fresh(h.o)
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "replaced, and the list says reuse", rule: "part/use-differs",
			plant: func(p *plan) bool {
				h, ok := p.one(always(p.d.hits("replace")))
				if !ok {
					return false
				}
				h.o.row.use, h.o.row.number = "reuse", ""
				p.want.tag = h.t
				return true
			},
		},
		{
			name: "slackened and never tightened", rule: "refit/left-loose",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("loosen"), func(h hit) bool {
					return p.count(h.o.row, "tighten", "torque") > 0 && h.o.row.name != "tension nut" && p.count(h.o.row, "remove") == 0
				}))
				if !ok {
					return false
				}
				p.want.tag = h.t
				for _, x := range of(p.d.hits("tighten", "torque"), h.o.row) {
					p.drop(x)
				}
				return true
			},
		},
		{
			name: "turned while it is locked", rule: "order/held",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("remove"), func(h hit) bool { return h.o.row.name == "lever nut" }))
				if !ok {
					return false
				}
				p.want.tag = h.t
				return swap(h, of(p.d.hits("remove"), p.rowWhere(func(r *row) bool { return r.name == "split pin" }))[0])
			},
		},
		{
			name: "worn parts are only taken out", rule: "refit/branches-differ",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("replace"), func(h hit) bool { return len(h.s.lead) > 0 }))
				if !ok {
					return false
				}
				h.t.kind, h.t.verb = "remove", "remove"
				for _, s := range p.d.steps() { // the first step under the same words
					if len(s.lead) > 0 && s.lead[0].text() == h.s.lead[0].text() {
						p.want.tag = s.lead[0]
						return true
					}
				}
				return false
			},
		},
		{
			name: "what is left off is not told", rule: "refit/left-off",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "weed screen" })
				if r == nil || len(p.given["leaves"]) == 0 {
					return false
				}
				p.want.tag = last(of(p.d.hits("remove"), r)).t
				return p.unsay("leaves")
			},
		},
		{
			name: "what is off at the start is not told", rule: "refit/already-on",
			plant: func(p *plan) bool {
				r := p.rowWhere(func(r *row) bool { return r.name == "weed screen" })
				if r == nil || len(p.given["starts"]) == 0 {
					return false
				}
				p.want.tag = of(p.d.hits("install"), r)[0].t
				return p.unsay("starts")
			},
		},
		{
			name: "left off by the front matter alone", rule: "refit/leaves-differ",
			plant: func(p *plan) bool {
				h, ok := p.one(where(always(p.d.hits("install")), func(h hit) bool {
					return !isFastener(h.o.row) && h.o.row.use != "add" && h.o.row.qty == 1 && h.o.row.variant == "" && len(h.o.row.place) == 0
				}))
				if !ok || len(p.given["leaves"]) > 0 || p.heldByAny(h.o.row) {
					return false
				}
				words := "remove the " + h.o.row.name
				p.d.front = append(p.d.front, entry{key: "leaves", value: "[" + words + "]"})
				p.want = place{front: "leaves", words: h.o.row.name}
				return true
			},
		},
		{
			name: "what the job adds is never fitted", rule: "part/use-differs",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("install"), func(h hit) bool { return h.o.row.use == "add" }))
				if !ok {
					return false
				}
				h.t.becomes("{check the " + h.o.row.name + " for rust}")
				p.want.row = h.o.row
				return true
			},
		},
		{
			name: "what comes off for good goes back", rule: "part/use-differs",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("remove"), func(h hit) bool { return h.o.row.use == "omit" }))
				if !ok {
					return false
				}
				t := &tag{kind: "install", verb: "install", objs: []*object{p.all(h.o.row)}}
				p.d.stageNamed("Refit", "Build up").insert(-1, &step{sents: []*sentence{p.line(t)}})
				p.want.tag = t
				return true
			},
		},
	}
}

func cloneTag(t *tag) *tag {
	if t == nil {
		return nil
	}
	c := *t
	return &c
}

// plainCounts tells whether all tags give the number of a row in figures.
func (p *plan) plainCounts(r *row) bool {
	for _, h := range of(p.d.hits(), r) {
		if h.o.style != "digits" && h.o.style != "words" {
			return false
		}
	}
	return true
}

func (p *plan) liesBehind(r, front *row) bool {
	return slices.Contains(r.place, "behind "+front.name) || slices.Contains(r.place, "under "+front.name)
}

func (p *plan) heldByAny(r *row) bool {
	return slices.ContainsFunc(p.d.parts, func(x *row) bool { return p.heldBy(x) == r })
}

// unsay takes a key out of the front matter.
func (p *plan) unsay(key string) bool {
	n := len(p.d.front)
	p.d.front = slices.DeleteFunc(p.d.front, func(e entry) bool { return e.key == key })
	return len(p.d.front) < n
}
