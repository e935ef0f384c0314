package syntax

import (
	"strings"

	"refitcard/compiler/keys"
	"refitcard/compiler/source"
)

// Texts visits every text of a file that a sheet may print, in the order of the file, and tells where a part of it stands.
// What only people see who read the file, such as a comment, is none.
func (t *Tree) Texts(visit func(text string, at func(start, end int) source.Span)) {
	w := texts{visit}
	if t.Front != nil {
		w.entries(t.Front)
	}
	w.blocks(t.Intro)
	for _, s := range t.Sections {
		w.typed(s.Title, s.TitleAt)
		w.blocks(s.Blocks)
	}
}

type texts struct {
	visit func(text string, at func(start, end int) source.Span)
}

// typed is a text whose bytes stand in the file as they are, but for a space in place of a line end; where they do not, all
// of the span stands for each part.
func (w texts) typed(text string, span source.Span) {
	w.visit(text, func(start, end int) source.Span {
		if !span.Known() || strings.TrimRight(text, " ") != strings.TrimRight(span.Text(), " \r\n") {
			return span
		}
		return span.File.At(span.Start+start, span.Start+end)
	})
}

func (w texts) entries(m *keys.Map) {
	for _, e := range m.Entries {
		w.value(e.Value)
	}
}

func (w texts) value(v keys.Value) {
	switch v.Kind {
	case keys.Scalar:
		w.typed(v.Text, v.At)
	case keys.Sequence:
		for _, x := range v.List {
			w.value(x)
		}
	case keys.Mapping:
		w.entries(v.Map)
	}
}

func (w texts) blocks(list []Block) {
	for _, b := range list {
		switch b := b.(type) {
		case *Paragraph:
			w.inlines(b.Text)
		case *Heading:
			w.inlines(b.Text)
		case *Quote:
			w.inlines(b.Text)
		case *List:
			for _, i := range b.Items {
				w.blocks(i.Blocks)
			}
		case *Table:
			w.cells(b.Head)
			for _, r := range b.Rows {
				w.cells(r.Cells)
			}
		case *Layout:
			w.typed(b.Name, b.NameAt)
		case *Stack:
			w.typed(b.Name, b.NameAt)
			for _, l := range b.Lines {
				w.typed(l.Text, l.At)
			}
		}
	}
}

func (w texts) cells(list []Cell) {
	for _, c := range list {
		w.visit(c.Text, c.Part)
	}
}

func (w texts) inlines(list []Inline) {
	for _, n := range list {
		switch n := n.(type) {
		case *Text:
			w.typed(n.Text, n.At)
		case *Tag:
			if n.Whole.Text != "" {
				w.visit(n.Whole.Text, n.Whole.At)
			}
		case *Image:
			w.typed(n.Alt, n.AltAt)
		}
	}
}
