package planted_test

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
)

// fault is a slip that can be planted, with the one finding that it must raise.
type fault struct {
	name string
	rule string
	// other is a second rule whose name would be as right, and why.
	other, why string
	plant      func(p *plan) bool // false: this procedure has no place for it
}

// plan is a procedure that gets its fault, and the place where the finding must stand.
type plan struct {
	*maker
	want place
}

// place is where a finding stands: within a tag, on a line of its own kind, or at certain words.
type place struct {
	tag   *tag
	row   *row
	tool  *tool
	sup   *supply
	step  *step
	stage *stage
	front string // a key of the front matter
	line  int
	words string // what the mark holds; empty: any words of the tag
}

// lineOf is the line of the place, known once the procedure is printed.
func (p place) lineOf(d *document) int {
	switch {
	case p.tag != nil:
		return p.tag.line
	case p.row != nil:
		return p.row.line
	case p.tool != nil:
		return p.tool.line
	case p.sup != nil:
		return p.sup.line
	case p.step != nil:
		return p.step.line
	case p.stage != nil:
		return p.stage.line
	case p.front != "":
		for _, e := range d.front {
			if e.key == p.front {
				return e.line
			}
		}
	}
	return p.line
}

// meets tells what is wrong with the findings of a procedure with a fault; empty when it is the one that was wanted.
func (p *plan) meets(f fault, text string, list []diag.Finding) string {
	if len(list) != 1 {
		return fmt.Sprintf("%d findings, one is wanted", len(list))
	}
	got := list[0]
	if got.Rule != f.rule && got.Rule != f.other {
		return "another rule speaks"
	}
	line := 0
	if got.At.Known() {
		line = got.At.File.Line(got.At.Start)
	}
	want := p.want.lineOf(p.d)
	if want == 0 {
		want = 1 + strings.Count(text[:max(strings.Index(text, p.want.words), 0)], "\n")
	}
	mark := strings.ReplaceAll(got.At.Text(), "\r", "")
	switch {
	case line != want:
		return fmt.Sprintf("it stands on line %d, wanted on %d", line, want)
	case p.want.tag != nil && (mark == "" || !strings.Contains(strings.ToLower(p.want.tag.text()), strings.ToLower(mark))):
		return fmt.Sprintf("its mark %q is not in %q", mark, p.want.tag.text())
	case p.want.words != "" && !strings.Contains(mark, p.want.words):
		return fmt.Sprintf("its mark %q does not hold %q", mark, p.want.words)
	}
	return ""
}

// hit is one act, with one of its objects.
type hit struct {
	st *stage
	s  *step
	x  *sentence
	c  int // the clause
	t  *tag
	o  *object // nil for an act without objects
	// led tells whether the step, or the one that it is a part of, is done only sometimes or only for some.
	led bool
}

// hits finds the acts of the kinds given, in order, one an object.
func (d *document) hits(kinds ...string) []hit {
	var all []hit
	each := func(st *stage, s *step, led bool) {
		for _, x := range s.sents {
			for c := range x.clauses {
				for _, f := range x.clauses[c] {
					if f.tag == nil || len(kinds) > 0 && !slices.Contains(kinds, f.tag.kind) {
						continue
					}
					h := hit{st, s, x, c, f.tag, nil, led || len(s.lead) > 0}
					if len(f.tag.objs) == 0 {
						all = append(all, h)
					}
					for _, o := range f.tag.objs {
						h.o = o
						all = append(all, h)
					}
				}
			}
		}
	}
	for _, st := range d.stages {
		for _, it := range st.items {
			if s, ok := it.(*step); ok {
				each(st, s, false)
				for _, sub := range s.subs {
					each(st, sub, len(s.lead) > 0)
				}
			}
		}
	}
	return all
}

// of keeps the hits of one row.
func of(list []hit, r *row) []hit {
	return slices.DeleteFunc(slices.Clone(list), func(h hit) bool { return h.o == nil || h.o.row != r })
}

// where keeps the hits that a test takes.
func where(list []hit, takes func(hit) bool) []hit {
	return slices.DeleteFunc(slices.Clone(list), func(h hit) bool { return !takes(h) })
}

// always keeps the hits of steps that are done whatever happens.
func always(list []hit) []hit { return where(list, func(h hit) bool { return !h.led }) }

func (p *plan) one(list []hit) (hit, bool) {
	if len(list) == 0 {
		return hit{}, false
	}
	return pick(p.maker, list...), true
}

// rowWhere draws a row that a test takes.
func (p *plan) rowWhere(takes func(r *row) bool) *row {
	var able []*row
	for _, r := range p.d.parts {
		if takes(r) {
			able = append(able, r)
		}
	}
	if len(able) == 0 {
		return nil
	}
	return pick(p.maker, able...)
}

// drop takes an act out; of an act with several objects, that object alone.
func (p *plan) drop(h hit) {
	if len(h.t.objs) > 1 {
		h.t.objs = slices.DeleteFunc(h.t.objs, func(o *object) bool { return o == h.o })
		return
	}
	h.cut()
	if len(h.x.clauses) == 0 {
		h.s.sents = slices.DeleteFunc(h.s.sents, func(x *sentence) bool { return x == h.x })
	}
	if len(h.s.sents) == 0 {
		p.remove(h.s)
	}
}

// cut takes the clause of an act out of its sentence.
func (h hit) cut() {
	for i, c := range h.x.clauses {
		if !slices.ContainsFunc(c, func(f frag) bool { return f.tag == h.t }) {
			continue
		}
		h.x.clauses = slices.Delete(h.x.clauses, i, i+1)
		if n := len(h.x.joints); n > 0 {
			h.x.joints = slices.Delete(h.x.joints, max(i-1, 0), max(i-1, 0)+1)
		}
		return
	}
}

// remove takes a step out.
func (p *plan) remove(s *step) {
	for _, st := range p.d.stages {
		st.items = slices.DeleteFunc(st.items, func(it any) bool { return it == any(s) })
		for _, it := range st.items {
			if parent, ok := it.(*step); ok {
				parent.subs = slices.DeleteFunc(parent.subs, func(sub *step) bool { return sub == s })
			}
		}
	}
}

// clauseOf finds where the clause of an act stands now.
func (h hit) clauseOf() int {
	return slices.IndexFunc(h.x.clauses, func(c clause) bool {
		return slices.ContainsFunc(c, func(f frag) bool { return f.tag == h.t })
	})
}

// swap lets two clauses change places, tools and all.
func swap(a, b hit) bool {
	if a.t == b.t || a.x == b.x && a.clauseOf() == b.clauseOf() || a.led || b.led {
		return false
	}
	i, k := a.clauseOf(), b.clauseOf()
	a.x.clauses[i], b.x.clauses[k] = b.x.clauses[k], a.x.clauses[i]
	return true
}

// insert puts a step before the n-th of a stage, -1 for the end.
func (st *stage) insert(n int, s *step) {
	if n < 0 {
		n = len(st.items)
	}
	st.items = slices.Insert(st.items, n, any(s))
}

// replaceTag puts another text in place of a tag.
func (t *tag) becomes(raw string) { t.raw = raw }

// stageNamed finds a stage by one of its names.
func (d *document) stageNamed(names ...string) *stage {
	for _, st := range d.stages {
		if slices.Contains(names, st.name) {
			return st
		}
	}
	return nil
}

// holds gives the part that a row of fasteners holds, nil for any other row.
func (p *plan) heldBy(r *row) *row {
	for _, x := range p.d.parts {
		if slices.Contains(r.place, "holds "+x.name) {
			return x
		}
	}
	return nil
}

// inFront gives the part that stands in front of a row, nil when none does.
func (p *plan) inFront(r *row) *row {
	for _, x := range p.d.parts {
		for _, rel := range r.place {
			if rel == "behind "+x.name || rel == "under "+x.name {
				return x
			}
		}
	}
	return nil
}

// last gives the last of some hits.
func last(list []hit) hit { return list[len(list)-1] }
