package editor

import (
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// Sort is what kind of thing a name stands for.
type Sort int

// The sorts of things that are declared once and used by name.
const (
	Part Sort = iota
	Tool
	Supply
	Label
)

// String gives the word for it.
func (s Sort) String() string { return [...]string{"part", "tool", "supply", "label"}[s] }

// Thing is what a name stands for: a sort of thing and its folded name. Rows that share a name, for variants apart, are one thing.
type Thing struct {
	Sort Sort
	Name string
}

// Use is a place where a thing is named.
type Use struct {
	At       source.Span // the name alone, as it is written there
	Thing    Thing
	Declares bool
	Plural   bool // the name stands there in its plural
}

// UseAt gives the use of a name at an offset of the file that is looked at.
func (v *View) UseAt(offset int) (u Use, ok bool) {
	for _, x := range v.names() {
		if v.at(x.At, offset) && (!ok || x.At.End-x.At.Start < u.At.End-u.At.Start) {
			u, ok = x, true
		}
	}
	return u, ok
}

// Uses lists all places in the procedure and its includes where a thing is named, in order.
func (v *View) Uses(t Thing) []Use {
	return slices.DeleteFunc(slices.Clone(v.names()), func(u Use) bool { return u.Thing != t })
}

// inlinesOf gives the running text of a block.
func inlinesOf(b syntax.Block) []syntax.Inline {
	switch b := b.(type) {
	case *syntax.Paragraph:
		return b.Text
	case *syntax.Quote:
		return b.Text
	case *syntax.Heading:
		return b.Text
	}
	return nil
}

// tagAt gives the tag of the file that is looked at which holds an offset between its braces.
func (v *View) tagAt(offset int) (found *syntax.Tag) {
	v.tree().EachBlock(func(_ *syntax.Section, b syntax.Block) {
		if at := b.Span(); at.Start > offset || at.End < offset {
			return
		}
		for _, i := range inlinesOf(b) {
			if t, ok := i.(*syntax.Tag); ok && !t.Unclosed && t.At.Start < offset && offset < t.At.End {
				found = t
			}
		}
	})
	return found
}

// actAt gives the act of the file that is looked at which holds an offset; acts of a file that is included twice are told apart by
// nothing, and the first is taken.
func (v *View) actAt(offset int) (found *procedure.Act) {
	look := func(a *procedure.Act) {
		if found == nil && v.at(a.At, offset) {
			found = a
		}
	}
	v.Result.Proc.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			look(a)
		}
	})
	for _, list := range [][]*procedure.Act{v.Result.Proc.Starts, v.Result.Proc.Leaves, v.Result.Proc.Spoken} {
		for _, a := range list {
			look(a)
		}
	}
	return found
}

// Definition gives where the name at an offset is declared: the rows of its table, the bullet, the label, or the included file.
func (v *View) Definition(offset int) []source.Span {
	if t := v.tagAt(offset); t != nil && t.Verb != nil && t.Verb.Effect == verb.Include {
		for _, f := range v.Result.Proc.Sources {
			if v.includes(t.Body.Text, f) {
				return []source.Span{f.At(0, 0)}
			}
		}
	}
	u, ok := v.UseAt(offset)
	if !ok {
		return nil
	}
	var all []source.Span
	for _, x := range v.Uses(u.Thing) {
		if x.Declares {
			all = append(all, x.At)
		}
	}
	return all
}

// includes tells whether a path of an include tag means a file.
func (v *View) includes(path string, f *source.File) bool {
	return f != v.File && f.Path == joined(v.File.Path, path)
}
