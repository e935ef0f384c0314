package compare

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// job compares the front matter as far as it says what is done, to what and under which conditions. Names and dates of people
// and the wording of the title are no part of that.
func (c *comparison) job() {
	o, n := c.old, c.now
	for _, f := range []struct {
		what     string
		old, now field
		at, was  source.Span
	}{
		{"number", phrase(o.Number.Value), phrase(n.Number.Value), n.Number.At, o.Number.At},
		{"machine", phrase(o.Machine.Value), phrase(n.Machine.Value), n.Machine.At, o.Machine.At},
		{"people", phrase(people(o)), phrase(people(n)), n.People.At, o.People.At},
		{"done once for each", each(o.Each), each(n.Each), n.Each.At, o.Each.At},
		{"variants", phrase(texts(o.Variants)), phrase(texts(n.Variants)), first(n.Variants), first(o.Variants)},
		{"conditions", phrase(texts(o.Conditions)), phrase(texts(n.Conditions)), first(n.Conditions), first(o.Conditions)},
		{"references", phrase(texts(o.References)), phrase(texts(n.References)), first(n.References), first(o.References)},
		{"jobs before it", phrase(texts(o.After)), phrase(texts(n.After)), first(n.After), first(o.After)},
		{"jobs behind it", phrase(texts(o.Then)), phrase(texts(n.Then)), first(n.Then), first(o.Then)},
		{"what it starts from", tags(o.Starts), tags(n.Starts), tagAt(n.Starts), tagAt(o.Starts)},
		{"what it leaves so on purpose", tags(o.Leaves), tags(n.Leaves), tagAt(n.Leaves), tagAt(o.Leaves)},
	} {
		c.differ(Job, f.what, f.old, f.now, f.was, f.at)
	}
}

// people is one where nothing is written: that is what the card says.
func people(p *procedure.Procedure) string {
	if !p.People.Set() {
		return "1"
	}
	return p.People.Value
}

func each(e procedure.Each) field {
	if e.Count < 2 {
		return field{"", "once"}
	}
	return phrase(procedure.CountName(e.Count, e.Name))
}

func first(list []procedure.Text) source.Span {
	if len(list) == 0 {
		return source.Span{}
	}
	return list[0].At
}

func tagAt(acts []*procedure.Act) source.Span {
	if len(acts) == 0 {
		return source.Span{}
	}
	return acts[0].At
}

// tags is a list of tags as a field; their order says nothing.
func tags(acts []*procedure.Act) field {
	var meaning, shown []string
	for _, a := range acts {
		meaning, shown = append(meaning, gist(a.Words)), append(shown, plain(a.Words))
	}
	slices.Sort(meaning)
	return field{strings.Join(meaning, "\x00"), orNone(strings.Join(shown, "; "))}
}

// key tells rows of one name for different variants apart.
func key(p *procedure.Part) string {
	var v []string
	for _, t := range p.Variants {
		v = append(v, procedure.Fold(t.Value))
	}
	slices.Sort(v)
	return procedure.Fold(p.Name.Value) + "\x00" + strings.Join(v, ",")
}

func shownPart(p *procedure.Part) string {
	if len(p.Variants) == 0 {
		return p.Name.Value
	}
	return p.Name.Value + " (" + texts(p.Variants) + ")"
}

// renamed finds parts that only got another name: the one old row and the one new row without a partner that are equal else.
func renamed(old, now *procedure.Procedure) map[string]string {
	names := map[string]string{}
	has := func(list []*procedure.Part, name string) bool {
		return slices.ContainsFunc(list, func(p *procedure.Part) bool { return procedure.Fold(p.Name.Value) == name })
	}
	taken := map[string]bool{}
	for _, o := range old.Parts {
		was := procedure.Fold(o.Name.Value)
		if has(now.Parts, was) {
			continue
		}
		var like []string
		for _, n := range now.Parts {
			is := procedure.Fold(n.Name.Value)
			if !has(old.Parts, is) && !taken[is] && rowOf(o, nil) == rowOf(n, nil) && relatedWords(o.Name.Value, n.Name.Value) {
				like = append(like, is)
			}
		}
		if len(like) == 1 {
			names[was], taken[like[0]] = like[0], true
		}
	}
	return names
}

// relatedWords tells whether two names share a word: a new name with none of the old words is another thing.
func relatedWords(a, b string) bool {
	return slices.ContainsFunc(words(a), func(w string) bool { return len(w) > 2 && slices.Contains(words(b), w) })
}

// rowOf is all that a row says but its name.
func rowOf(p *procedure.Part, names map[string]string) string {
	return fmt.Sprint(p.Qty, p.UpTo, p.Use, spec(p).meaning, gist(p.Number.Value), places(p, names).meaning, torque(p.Torque).meaning)
}

// spec is the Spec cell as a field: × and x are one sign.
func spec(p *procedure.Part) field {
	return field{strings.NewReplacer("×", "x", " x ", "x", ",", "").Replace(procedure.Fold(p.Spec.Value)), orNone(plain(p.Spec.Value))}
}

// places is the Place column as a field; the order of the relations says nothing.
func places(p *procedure.Part, names map[string]string) field {
	var meaning, shown []string
	for _, r := range p.Places {
		name := procedure.Fold(r.Name)
		switch {
		case r.Part != nil:
			name = procedure.Fold(r.Part.Name.Value)
		case r.Supply != nil:
			name = procedure.Fold(r.Supply.Name.Value)
		}
		if to, ok := names[name]; ok {
			name = to
		}
		word := [...]string{"holds", "clamps", "behind", "seals", "fills", "locks"}[r.Kind]
		meaning, shown = append(meaning, word+" "+name), append(shown, word+" "+plain(r.Name))
	}
	for _, f := range p.Faces {
		meaning, shown = append(meaning, gist(f.Value)), append(shown, plain(f.Value))
	}
	slices.Sort(meaning)
	return field{strings.Join(meaning, "\x00"), orNone(strings.Join(shown, ", "))}
}

func quantityOf(p *procedure.Part) field {
	s := fmt.Sprint(p.Qty)
	if p.UpTo {
		s = "up to " + s
	}
	return field{s, s}
}

// parts compares the rows of the parts table.
func (c *comparison) parts() {
	partner := map[*procedure.Part]bool{}
	find := func(o *procedure.Part) *procedure.Part {
		want := key(o)
		name, rest, _ := strings.Cut(want, "\x00")
		if to, ok := c.names[name]; ok {
			want = to + "\x00" + rest
		}
		for _, n := range c.now.Parts {
			if key(n) == want && !partner[n] {
				return n
			}
		}
		return nil
	}
	var gone []*procedure.Part
	pairs := map[*procedure.Part]*procedure.Part{}
	for _, o := range c.old.Parts {
		n := find(o)
		if n == nil {
			gone = append(gone, o)
			continue
		}
		partner[n], pairs[n] = true, o
	}
	for _, n := range c.now.Parts {
		if o := pairs[n]; o != nil {
			c.part(o, n)
			continue
		}
		c.add(Change{Kind: Part, What: shownPart(n), Now: rowWords(n), At: n.Name.At})
	}
	for _, o := range gone {
		c.add(Change{Kind: Part, What: shownPart(o), Was: rowWords(o), OldAt: o.Name.At})
	}
}

// rowWords says a row in short.
func rowWords(p *procedure.Part) string {
	s := quantityOf(p).shown
	for _, more := range []string{plain(p.Spec.Value), p.Use.String()} {
		if more != "" {
			s += ", " + more
		}
	}
	return s
}

func (c *comparison) part(o, n *procedure.Part) {
	name := shownPart(n)
	if was, is := procedure.Fold(o.Name.Value), procedure.Fold(n.Name.Value); was != is {
		c.add(Change{Kind: Part, What: "name of a part", Was: o.Name.Value, Now: n.Name.Value, At: n.Name.At, OldAt: o.Name.At})
	}
	c.differ(Part, name+", count", quantityOf(o), quantityOf(n), o.QtyAt, n.QtyAt)
	c.differ(Part, name+", spec", spec(o), spec(n), o.Spec.At, n.Spec.At)
	c.differ(Part, name+", part number", phrase(o.Number.Value), phrase(n.Number.Value), o.Number.At, n.Number.At)
	c.differ(Part, name+", use", field{o.Use.String(), o.Use.String()}, field{n.Use.String(), n.Use.String()}, o.UseAt, n.UseAt)
	c.differ(Part, name+", place", places(o, c.names), places(n, nil), o.PlaceAt, n.PlaceAt)
	if !c.torqued[procedure.Fold(n.Name.Value)] {
		c.differ(Part, name+", torque", torque(o.Torque), torque(n.Torque), o.Torque.At, n.Torque.At)
	}
}
