package syntax

import (
	"slices"
	"sort"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Retyped is an entry of a list that was read anew, and how all behind it has moved. The place of Was is that in the earlier text.
type Retyped struct {
	Section  *Section
	Was, Now *Item
	Shift    source.Shift
	First    int // where the entry begins; the one behind it begins at Shift.From, and now at Shift.From + Shift.By
}

// Retype reads an edited file anew where only one entry of a list has changed and the Markdown around it can't tell: the entry
// begins and ends as before, another one of the list follows it, and by itself it is one entry. Then the tree and its file are
// those of the new text. If ok is false nothing has changed, and the file has to be parsed.
func (t *Tree) Retype(raw []byte, verbs *verb.Table) (r Retyped, ok bool) {
	f := t.File
	now := source.New(f.Name, f.Path, raw)
	if now.Mark != f.Mark || t.defines || len(now.Text)+now.Mark > maxBytes {
		return r, false
	}
	edit := source.Difference(f.Text, now.Text)
	section, list, entry := t.entryAt(edit)
	if list == nil {
		return r, false
	}
	was, next := list.Items[entry], list.Items[entry+1]
	by := edit.Now - edit.Was
	first, behind := was.At.Start, next.At.Start+by
	if !begins(f.Text, first) || !begins(f.Text, next.At.Start) || !numbered(now.Text, first, edit.From) {
		return r, false
	}
	old := *f
	*f = *now // so that what is read has its place in the file of the tree
	item, faults, ok := readEntry(f, first, behind, verbs)
	size := t.size
	if ok {
		size = size.without(sizeOf(was)).Add(sizeOf(item))
		_, _, _, over := size.Over()
		ok = !over
	}
	if !ok {
		*f = old
		return r, false
	}
	r = Retyped{section, was, item, source.Shift{File: f, From: next.At.Start, By: by}, first}
	t.swap(r, faults)
	list.Items[entry], t.size = item, size
	t.shift(r.Shift, section, list, entry)
	return r, true
}

// entryAt finds the entry of a list of steps that an edit lies in, and that another one follows; list is nil where there is none.
func (t *Tree) entryAt(edit source.Edit) (section *Section, list *List, entry int) {
	n := sort.Search(len(t.Sections), func(i int) bool { return t.Sections[i].At.Start > edit.From }) - 1
	if n < 0 {
		return nil, nil, 0
	}
	section = t.Sections[n]
	for _, b := range section.Blocks {
		l, ok := b.(*List)
		if !ok || !l.Ordered || edit.From < l.At.Start || edit.Was > l.At.End {
			continue
		}
		k := sort.Search(len(l.Items), func(i int) bool { return l.Items[i].At.Start > edit.From }) - 1
		if k >= 0 && k+1 < len(l.Items) && edit.Was < l.Items[k+1].At.Start {
			return section, l, k
		}
	}
	return nil, nil, 0
}

// begins tells whether a line begins at an offset, behind an end of line that editors and the Markdown library agree on.
func begins(src []byte, at int) bool { return at > 0 && src[at-1] == '\n' }

// numbered tells whether an entry has a number, one space and words before the edit, so that it begins as it did.
func numbered(src []byte, at, edit int) bool {
	for at < len(src) && isDigit(src[at]) {
		at++
	}
	return at+2 < len(src) && at+2 <= edit && (src[at] == '.' || src[at] == ')') && src[at+1] == ' ' && !isBlank(src[at+2])
}

// readEntry reads one entry by itself. ok is false when it is not just that, or beyond a limit: then the file is read as a whole.
func readEntry(f *source.File, first, behind int, verbs *verb.Table) (*Item, []source.Fault, bool) {
	if !isText(f.Text[first:behind]) {
		return nil, nil, false
	}
	for n := f.Line(first); n < f.Line(behind); n++ {
		if line := f.LineSpan(n); marksBefore(f.Text[line.Start:line.End], line.End-line.Start) > maxDepth {
			return nil, nil, false
		}
	}
	src := prepared(f.Text[:behind])
	w, pc := newWatch()
	reader := text.NewReader(src)
	reader.SetPosition(-1, text.NewSegment(first-1, first))
	reader.AdvanceLine() // or the reader would count columns from the head of the file
	doc := shared().Parse(reader, parser.WithContext(pc))
	if w.over != nil || w.cells > 0 || len(pc.References()) > 0 || doc.ChildCount() != 1 {
		return nil, nil, false
	}
	switch n := doc.FirstChild().(type) {
	case *itemsNode:
		if len(n.items) != 1 {
			return nil, nil, false
		}
	case *ast.List:
		if n.ChildCount() != 1 || !n.IsOrdered() {
			return nil, nil, false
		}
	default:
		return nil, nil, false
	}
	part := &Tree{File: f}
	b := &builder{tree: part, file: f, src: src, verbs: verbs, watch: w, lastOpen: -1, tornAt: -1}
	b.block(doc.FirstChild())
	var g gauge
	g.blocks(b.pile)
	if g.long.Known() || len(part.Faults) > maxFaults/10 {
		return nil, nil, false
	}
	item := b.pile[0].(*List).Items[0]
	for _, fault := range part.Faults {
		if fault.At.Start < first || fault.At.End > behind {
			return nil, nil, false
		}
	}
	return item, part.Faults, item.At.Start == first
}

// swap puts the faults of the new entry in the place of those of the old one, and moves the others.
func (t *Tree) swap(r Retyped, faults []source.Fault) {
	inside := func(f source.Fault) bool {
		return f.At.File == t.File && f.At.Start >= r.First && f.At.Start < r.Shift.From
	}
	at := slices.IndexFunc(t.Faults, inside)
	kept := slices.DeleteFunc(slices.Clone(t.Faults), inside)
	if at < 0 {
		at = slices.IndexFunc(kept, func(f source.Fault) bool { return f.At.Start >= r.Shift.From })
	}
	if at < 0 {
		at = len(kept)
	}
	for i := range kept {
		r.Shift.Fault(&kept[i])
	}
	t.Faults = slices.Insert(kept, at, faults...)
}

// sizeOf measures one entry of a list.
func sizeOf(i *Item) Size {
	g := gauge{Size: Size{Items: 1}}
	g.blocks(i.Blocks)
	return g.Size
}

func (s Size) without(t Size) Size {
	return Size{s.Rows - t.Rows, s.Items - t.Items, s.Tags - t.Tags, s.Blocks - t.Blocks, s.Places - t.Places}
}
