package resolve

import (
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// expected is about how much a model will hold of what there is most of. Where it is too little, more is had piece by piece.
type expected struct{ acts, objects, values, runs int }

// expect makes room for what the trees will most likely come to.
func (r *resolver) expect() {
	var x expected
	x.tree(r.in.Main)
	for _, i := range r.in.Includes {
		x.tree(i.Tree)
	}
	r.acts.expect(x.acts)
	r.actLists.expect(x.acts + leastPiece) // a list is begun where some room is left
	r.objects.expect(x.objects + x.objects/4 + leastPiece)
	r.valued.expect(x.values)
	r.runs.expect(x.runs + leastPiece)
	r.p.Stages = make([]*procedure.Stage, 0, len(r.in.Main.Sections))
}

func (x *expected) tree(t *syntax.Tree) {
	x.blocks(t.Intro)
	for _, s := range t.Sections {
		for _, b := range s.Blocks {
			if l, ok := b.(*syntax.List); ok && l.Ordered {
				x.items(l)
			}
		}
	}
}

func (x *expected) items(l *syntax.List) {
	for _, i := range l.Items {
		x.blocks(i.Blocks)
	}
}

func (x *expected) blocks(list []syntax.Block) {
	for i, b := range list {
		switch b := b.(type) {
		case *syntax.Paragraph:
			if i > 0 { // a line break stands between two
				x.runs++
			}
			x.text(b.Text)
		case *syntax.Heading:
			x.text(b.Text)
		case *syntax.List:
			x.items(b)
		}
	}
}

func (x *expected) text(list []syntax.Inline) {
	for _, i := range list {
		x.runs++
		t, ok := i.(*syntax.Tag)
		if !ok || t.Verb == nil {
			continue
		}
		x.acts++
		switch t.Verb.Takes {
		case verb.Supply:
			x.objects++
			x.values++
			x.runs++
		case verb.Parts, verb.Part, verb.Fluids, verb.Anything, verb.OneThing:
			x.objects++
			x.runs++
		case verb.Torque:
			x.objects++
			x.values++
			x.runs += 3
		case verb.Measure, verb.Limit, verb.Duration, verb.Words:
			x.values++
			x.runs++
		}
	}
}

// expectBullets makes room for the bullets of a list of tools or supplies.
func (r *resolver) expectBullets(kind string, n int) {
	switch kind {
	case "tools":
		r.toolSlab.expect(n)
		r.choices.expect(n + n/4) // some name one or the other
		r.tools, r.p.Tools = slices.Grow(r.tools, n), slices.Grow(r.p.Tools, n)
	case "supplies":
		r.p.Supplies = slices.Grow(r.p.Supplies, n)
	}
}
