package editor

import (
	"sort"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/resolve"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// collector gathers uses.
type collector struct {
	v    *View
	all  []Use
	seen map[source.Span]bool
}

// uses finds every name of the procedure and of the files that it includes, in the order of files and places.
func (v *View) uses() []Use {
	c := &collector{v: v, seen: map[source.Span]bool{}}
	p := v.Result.Proc
	c.declared(p)
	c.acts(p)
	c.labels(p)
	c.blocks(p)
	for _, w := range p.Waivers {
		c.waiver(w)
	}
	for _, f := range p.Sources[min(1, len(p.Sources)):] { // rows that merged with equal ones of another file stand there all the same
		alone, _ := resolve.Resolve(resolve.Input{Main: v.trees(f), Settings: v.Result.Settings})
		c.declared(alone)
		c.blocks(alone)
	}
	place := map[*source.File]int{}
	for i, f := range p.Sources {
		place[f] = i
	}
	sort.SliceStable(c.all, func(i, j int) bool {
		a, b := c.all[i].At, c.all[j].At
		return place[a.File] < place[b.File] || a.File == b.File && a.Start < b.Start
	})
	return c.all
}

// add takes a use in, once; at must hold the name as it is written.
func (c *collector) add(u Use) {
	if !u.At.Known() || u.At.Start == u.At.End || c.seen[u.At] {
		return
	}
	c.seen[u.At] = true
	c.all = append(c.all, u)
}

func (c *collector) declared(p *procedure.Procedure) {
	for _, x := range p.Parts {
		c.add(Use{At: x.Name.At, Thing: partThing(x), Declares: true})
		for _, rel := range x.Places {
			c.relation(rel)
		}
	}
	for _, x := range p.Tools {
		for _, choice := range x.Choices {
			c.add(Use{At: choice.NameAt, Thing: Thing{Tool, procedure.Fold(choice.Name)}, Declares: true})
		}
	}
	for _, x := range p.Supplies {
		c.add(Use{At: x.Name.At, Thing: supplyThing(x), Declares: true})
	}
}

func partThing(p *procedure.Part) Thing { return Thing{Part, procedure.Fold(p.Name.Value)} }

func supplyThing(s *procedure.Supply) Thing { return Thing{Supply, procedure.Fold(s.Name.Value)} }

// relation finds the name in a piece of a Place cell: behind its word and article, if it has them.
func (c *collector) relation(rel procedure.Relation) {
	t := Thing{}
	switch {
	case rel.Part != nil:
		t = partThing(rel.Part)
	case rel.Supply != nil:
		t = supplyThing(rel.Supply)
	default:
		return
	}
	at, ok := wordsIn(rel.At, strings.TrimPrefix(rel.Name, "the "), 0)
	if !ok {
		return
	}
	c.add(Use{At: at, Thing: t, Plural: plural(at.Text(), t.Name)})
}

// plural tells whether a name is written in its plural, where that differs.
func plural(typed, folded string) bool { return procedure.Fold(typed) != folded }

func (c *collector) acts(p *procedure.Procedure) {
	p.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			c.act(a)
		}
	})
	for _, list := range [][]*procedure.Act{p.Starts, p.Leaves, p.Spoken} {
		for _, a := range list {
			c.act(a)
		}
	}
}

func (c *collector) act(a *procedure.Act) {
	if a.Tool != nil {
		c.toolTag(a)
	}
	for _, list := range [][]procedure.Object{a.Objects, a.Mentions} {
		for _, o := range list {
			switch {
			case o.Part != nil:
				c.add(Use{At: o.NameAt, Thing: partThing(o.Part), Plural: o.Plural})
			case o.Supply != nil:
				c.add(Use{At: o.NameAt, Thing: supplyThing(o.Supply), Plural: o.Plural})
			case o.Tool != nil:
				c.mentioned(o)
			}
		}
	}
}

// mentioned finds which side of a tool's "or" is named.
func (c *collector) mentioned(o procedure.Object) {
	typed := procedure.Fold(o.Typed)
	for _, choice := range o.Tool.Choices {
		name := procedure.Fold(choice.Name)
		if typed == name || typed == procedure.Fold(procedure.Plural(choice.Name)) {
			c.add(Use{At: o.NameAt, Thing: Thing{Tool, name}, Plural: typed != name})
		}
	}
}

// toolTag finds the names in "{tool torque wrench, 5–50 N·m}"; a tag may give all sides of an "or".
func (c *collector) toolTag(a *procedure.Act) {
	for _, choice := range a.Tool.Choices {
		for _, form := range []string{choice.Name, procedure.Plural(choice.Name)} {
			if at, ok := wordsIn(a.At, form, len("{"+a.Verb.Name)); ok {
				name := procedure.Fold(choice.Name)
				c.add(Use{At: at, Thing: Thing{Tool, name}, Plural: plural(at.Text(), name)})
				break
			}
		}
	}
}

// labels finds {label …} and {number …}.
func (c *collector) labels(p *procedure.Procedure) {
	use := func(r procedure.Run) {
		if r.Step != nil && r.Step.Label.Set() {
			c.add(Use{At: r.Step.Label.At, Thing: Thing{Label, r.Step.Label.Value}})
		}
	}
	runs := func(list []procedure.Remark) {
		for _, m := range list {
			if m.Note != nil {
				for _, r := range m.Note.Runs {
					use(r)
				}
			}
		}
	}
	runs(p.Intro)
	p.EachStep(func(s *procedure.Step) {
		if s.Label.Set() {
			c.add(Use{At: s.Label.At, Thing: Thing{Label, s.Label.Value}, Declares: true})
		}
		runs(s.Before)
		runs(s.Notes)
		for _, r := range s.Runs {
			use(r)
		}
		for _, m := range s.Messages {
			for _, r := range m.Runs {
				use(r)
			}
		}
	})
}

// blocks finds the names in stacks, and those behind the letters of layouts.
func (c *collector) blocks(p *procedure.Procedure) {
	for _, s := range p.Stacks {
		for _, l := range s.Layers {
			c.form(l.At, l.Part)
		}
	}
	for _, l := range p.Layouts {
		for _, part := range l.Parts {
			c.letter(l, part)
		}
	}
}

// form finds the name of a part, or its plural, in a place.
func (c *collector) form(at source.Span, p *procedure.Part) {
	for _, form := range []string{p.Name.Value, procedure.Plural(p.Name.Value)} {
		if found, ok := wordsIn(at, form, 0); ok {
			c.add(Use{At: found, Thing: partThing(p), Plural: plural(found.Text(), procedure.Fold(p.Name.Value))})
			return
		}
	}
}

// letter finds a part in the lines "a = guard bolt, b = long guard bolt" under a drawing.
func (c *collector) letter(l *procedure.Layout, p *procedure.Part) {
	c.v.trees(l.At.File).EachBlock(func(_ *syntax.Section, b syntax.Block) {
		if drawn, ok := b.(*syntax.Layout); ok && drawn.At == l.At {
			for mark, at := range drawn.NameOf {
				if name := procedure.Fold(drawn.Names[mark]); name == procedure.Fold(p.Name.Value) || name == procedure.Fold(procedure.Plural(p.Name.Value)) {
					c.form(at, p)
				}
			}
		}
	})
}

// waiver finds the thing that a waiver names: "{waive part/single-use-kept drain plug: …}".
func (c *collector) waiver(w *procedure.Waiver) {
	if w.Thing == "" {
		return
	}
	head, _, _ := strings.Cut(w.At.Text(), ": ")
	at, ok := wordsIn(w.At.File.At(w.At.Start, w.At.Start+len(head)), w.Thing, len("{waive "+w.Rule.Value))
	if !ok {
		return
	}
	for _, u := range c.all {
		if u.Declares && u.Thing.Name == w.Thing && u.Thing.Sort != Label {
			c.add(Use{At: at, Thing: u.Thing})
			return
		}
	}
}
