package planted_test

import (
	"slices"
	"strings"
)

// named keeps the hits on a thing that nobody declares.
func named(list []hit, name string) []hit {
	return where(list, func(h hit) bool { return h.o != nil && h.o.free == name })
}

// undoing plants that the second act of a pair is left out, or the first.
func undoing(name, rule, first, second string, dropFirst bool) fault {
	return fault{name: name, rule: rule, plant: func(p *plan) bool {
		h, ok := p.one(where(always(p.d.hits(second)), func(h hit) bool { return h.o != nil && h.o.free != "" && h.o.free != "flap valve" }))
		if !ok {
			return false
		}
		do := named(always(p.d.hits(first)), h.o.free)
		if len(do) != 1 || len(named(p.d.hits(second), h.o.free)) != 1 {
			return false
		}
		if dropFirst {
			p.want.tag = h.t
			p.drop(do[0])
			return true
		}
		p.want.tag = do[0].t
		p.drop(h)
		return true
	}}
}

// move takes a sentence out of its step and puts it into a step of its own at the n-th place of a stage.
func (p *plan) move(h hit, st *stage, n int) {
	h.s.sents = slices.DeleteFunc(h.s.sents, func(x *sentence) bool { return x == h.x })
	st.insert(n, &step{sents: []*sentence{h.x}})
	if len(h.s.sents) == 0 {
		p.remove(h.s)
	}
	h.s.wrap = 0
}

// stateFaults are slips in what is open, drained, isolated, raised, marked or awaited.
func stateFaults() []fault {
	return append(pairFaults(), fluidAndEnergyFaults()...)
}

func pairFaults() []fault {
	return []fault{
		undoing("a hose is never put back", "refit/left-open", "disconnect", "connect", false),
		undoing("a hose is connected that was never off", "refit/left-open", "disconnect", "connect", true),
		undoing("a cap stays on", "refit/left-open", "cap", "uncap", false),
		undoing("a cap comes off that was never on", "refit/never-opened", "cap", "uncap", true),
		undoing("a pin stays in", "refit/left-open", "insert", "withdraw", false),
		undoing("a pin comes out that was never in", "refit/never-opened", "insert", "withdraw", true),
		undoing("a valve stays shut", "refit/left-open", "close", "open", false),
		undoing("a stand stays under", "refit/left-open", "support", "release", false),
		undoing("the jack stays up", "refit/left-open", "raise", "lower", false),
		undoing("unlocked and never locked", "refit/never-opened", "lock off", "unlock", true),
		undoing("the lock stays on", "energy/left-isolated", "lock off", "unlock", false),
		{
			name: "one pin too few comes out", rule: "refit/left-open",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("withdraw"))
				if !ok || h.o.n < 2 || len(named(p.d.hits("withdraw"), h.o.free)) > 1 {
					return false
				}
				h.o.n, h.o.style = h.o.n-1, "digits"
				p.want.tag = named(p.d.hits("insert"), h.o.free)[0].t
				return true
			},
		},
		{
			name: "no stand under what is up", rule: "energy/raised-unsupported",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("support"))
				if !ok {
					return false
				}
				p.drop(p.d.hits("release")[0])
				p.drop(h)
				work := p.d.hits("remove", "loosen", "drain", "replace", "install", "tighten", "torque")
				if len(work) == 0 {
					return false
				}
				p.want.tag = work[0].t
				return true
			},
		},
		{
			name: "marked and never aligned", rule: "refit/mark-unused",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("align"))
				if !ok {
					return false
				}
				p.want.tag = of(p.d.hits("mark"), h.o.row)[0].t
				p.drop(h)
				return true
			},
		},
		{
			name: "aligned by no mark", rule: "order/align-unmarked",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("align"))
				if !ok {
					return false
				}
				p.want.tag = h.t
				p.drop(of(p.d.hits("mark"), h.o.row)[0])
				return true
			},
		},
		{
			name: "nobody waits for the cure", rule: "order/never-awaited",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("await"))
				if !ok {
					return false
				}
				p.want.tag = p.d.hits("start")[0].t
				p.drop(h)
				return true
			},
		},
		{
			name: "a wait for what was never begun", rule: "order/await-unstarted",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("await"))
				if !ok {
					return false
				}
				p.want.tag = h.t
				p.drop(p.d.hits("start")[0])
				return true
			},
		},
		{
			name: "a valve is named in two ways", rule: "refit/left-open",
			plant: func(p *plan) bool {
				h, ok := p.one(where(p.d.hits("open"), func(h hit) bool { return strings.Contains(h.o.free, "valve") && h.o.free != "flap valve" }))
				if !ok {
					return false
				}
				h.o.free = strings.Replace(h.o.free, "valve", "valvs", 1)
				p.want.tag = h.t
				return true
			},
		},
	}
}

func fluidAndEnergyFaults() []fault {
	return []fault{
		{
			name: "drained and never filled", rule: "refit/not-filled",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("fill"))
				if !ok {
					return false
				}
				p.want.tag = p.d.hits("drain")[0].t
				p.drop(h)
				return true
			},
		},
		{
			name: "filled before the plug is tight", rule: "order/filled-open",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("fill"))
				if !ok {
					return false
				}
				p.want.tag = h.t
				p.d.stageNamed("Give back").items = without(p.d.stageNamed("Give back").items, p, h)
				plug := p.rowWhere(func(r *row) bool { return r.name == "drain plug" })
				x := of(p.d.hits("torque"), plug)[0]
				x.s.sents = slices.Insert(x.s.sents, slices.Index(x.s.sents, x.x), h.x)
				x.s.wrap = 0
				return true
			},
		},
		{
			name: "a seal comes off before the drain", rule: "order/removed-wet",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("drain"))
				if !ok || !slices.Contains(h.s.sents[len(h.s.sents)-1].tags(), h.t) {
					return false
				}
				r := p.rowWhere(func(r *row) bool {
					return r.name != "drain plug" && r.name != "sealing washer" && strings.Contains(strings.Join(r.place, ","), "seals ")
				})
				if r == nil {
					return false
				}
				strip := p.d.stageNamed("Strip", "Take apart")
				p.remove(h.s)
				strip.insert(-1, h.s)
				for _, x := range p.d.hits("remove") {
					if strings.Contains(strings.Join(x.o.row.place, ","), "seals ") {
						p.want.tag = x.t
						return true
					}
				}
				return false
			},
		},
		{
			name: "unlocked before the work is done", rule: "energy/restored-early",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("unlock"))
				if !ok {
					return false
				}
				p.want.tag = h.t
				refit := p.d.stageNamed("Refit", "Build up")
				p.move(h, refit, 0)
				return len(where(p.d.hits("install", "torque", "tighten"), func(x hit) bool { return x.st == refit })) > 0
			},
		},
		{
			name: "locked after work began", rule: "energy/isolated-late",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("lock off"))
				strip := p.d.stageNamed("Strip", "Take apart")
				if !ok || len(where(p.d.hits("remove", "loosen", "drain"), func(x hit) bool { return x.st == strip })) == 0 {
					return false
				}
				p.want.tag = h.t
				p.remove(h.s)
				strip.insert(-1, h.s)
				return true
			},
		},
		{
			name: "nobody proves that it is dead", rule: "energy/not-proved",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("lock off"))
				if !ok {
					return false
				}
				for _, x := range p.d.hits("check") {
					if x.s == h.s {
						p.want.tag = h.t
						p.drop(x)
						return true
					}
				}
				return false
			},
		},
		{
			name: "given back with nobody told", rule: "energy/not-cleared",
			plant: func(p *plan) bool {
				h, ok := p.one(p.d.hits("unlock"))
				if !ok || len(where(p.d.hits("measure"), func(x hit) bool { return x.st == h.st })) > 0 {
					return false
				}
				p.want.tag = h.t
				cleared := false
				for _, x := range p.d.hits("check", "tell") {
					if x.st == h.st {
						p.drop(x)
						cleared = true
					}
				}
				return cleared
			},
		},
	}
}

// without takes the sentence of a hit out of its step, and the step with it when nothing is left.
func without(items []any, p *plan, h hit) []any {
	h.s.sents = slices.DeleteFunc(h.s.sents, func(x *sentence) bool { return x == h.x })
	h.s.wrap = 0
	if len(h.s.sents) == 0 {
		p.remove(h.s)
		return h.st.items
	}
	return items
}
