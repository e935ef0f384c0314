package syntax

import "refitcard/compiler/source"

// shift moves the places of all that stands behind an edit within one entry of a list of a section. Entries up to and with that one
// stay as they are: they stand before it, or are new.
func (t *Tree) shift(by source.Shift, section *Section, list *List, entry int) {
	m := mover{by}
	behind := false
	for _, s := range t.Sections {
		behind = behind || s == section
		if !behind {
			continue
		}
		m.Span(&s.At)
		m.Span(&s.TitleAt)
		for _, b := range s.Blocks {
			if b == Block(list) {
				m.Span(&list.At)
				m.items(list.Items[entry+1:])
				continue
			}
			m.block(b)
		}
	}
}

// mover visits every place once.
type mover struct{ source.Shift }

func (m mover) items(list []*Item) {
	for _, i := range list {
		m.Span(&i.At)
		m.blocks(i.Blocks)
	}
}

func (m mover) blocks(list []Block) {
	for _, b := range list {
		m.block(b)
	}
}

func (m mover) block(b Block) {
	switch b := b.(type) {
	case *Heading:
		m.Span(&b.At)
		m.inlines(b.Text)
	case *Paragraph:
		m.Span(&b.At)
		m.inlines(b.Text)
	case *List:
		m.Span(&b.At)
		m.items(b.Items)
	case *Table:
		m.Span(&b.At)
		m.cells(b.Head)
		for i := range b.Rows {
			m.Span(&b.Rows[i].At)
			m.cells(b.Rows[i].Cells)
		}
	case *Quote:
		m.Span(&b.At)
		m.Span(&b.SignalAt)
		m.inlines(b.Text)
	case *Layout:
		m.Span(&b.At)
		m.Span(&b.NameAt)
		for i := range b.Places {
			m.Span(&b.Places[i].At)
		}
		for letter, at := range b.NameOf {
			m.Span(&at)
			b.NameOf[letter] = at
		}
	case *Stack:
		m.Span(&b.At)
		m.Span(&b.NameAt)
		m.Span(&b.TarAt)
		for i := range b.Lines {
			m.Span(&b.Lines[i].At)
		}
	}
}

func (m mover) cells(list []Cell) {
	for i := range list {
		m.Span(&list[i].At)
		m.offsets(list[i].from)
	}
}

func (m mover) inlines(list []Inline) {
	for _, i := range list {
		switch i := i.(type) {
		case *Text:
			m.Span(&i.At)
		case *Tag:
			m.tag(i)
		case *Break:
			m.Span(&i.At)
		case *Image:
			m.Span(&i.At)
			m.Span(&i.PathAt)
			m.Span(&i.AltAt)
		}
	}
}

// tag moves a tag. Its body is a part of its whole, offsets and all.
func (m mover) tag(t *Tag) {
	m.Span(&t.At)
	m.Span(&t.VerbAt)
	m.offsets(t.Whole.from)
	for _, r := range [...]*Raw{&t.Whole, &t.Body} {
		if r.File == m.File && r.from == nil && r.start >= m.From {
			r.start += m.By
		}
	}
}

func (m mover) offsets(list []int32) {
	for i, at := range list {
		if int(at) >= m.From {
			list[i] = at + int32(m.By)
		}
	}
}
