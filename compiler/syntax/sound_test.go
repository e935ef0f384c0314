package syntax

import (
	"fmt"
	"strings"
	"testing"

	"refitcard/compiler/source"
)

// sound says what is wrong with the places of a tree: every span lies in the file, children lie inside their parents and
// behind one another, and what stands at a place is what its node claims.
type sound struct {
	file  *source.File
	wrong []string
}

// problems checks a whole tree.
func problems(t *Tree) []string {
	s := &sound{file: t.File}
	whole := t.File.At(0, len(t.File.Text))
	behind := whole
	if t.FrontAt.Known() {
		s.inside("front matter", t.FrontAt, whole)
		behind.Start = t.FrontAt.End
	}
	s.blocks(t.Intro, &behind)
	for _, section := range t.Sections {
		s.next("section", section.At, &behind)
		s.begins("section", section.At, "#")
		s.inside("title", section.TitleAt, section.At)
		own := section.At
		own.Start = max(own.Start, section.TitleAt.End)
		s.blocks(section.Blocks, &own)
	}
	for _, f := range t.Faults {
		s.inside("fault "+f.Name, f.At, whole)
		if (f.Name == "file/too-large" || f.Name == "file/not-text") && (len(t.Faults) > 1 || len(t.Intro)+len(t.Sections) > 0) {
			s.say("%s is not the only thing said", f.Name)
		}
	}
	return s.wrong
}

func (s *sound) say(format string, args ...any) {
	s.wrong = append(s.wrong, fmt.Sprintf(format, args...))
}

func (s *sound) inside(what string, at, parent source.Span) {
	if at.File != s.file || at.Start > at.End || !parent.Holds(at) {
		s.say("%s at %d-%d is not inside %d-%d of its parent", what, at.Start, at.End, parent.Start, parent.End)
	}
}

// next wants a node inside what is left of its parent, and takes it off.
func (s *sound) next(what string, at source.Span, left *source.Span) {
	s.inside(what, at, *left)
	left.Start = max(left.Start, min(at.End, left.End))
}

// begins wants one of some characters at the start; a heading may be underlined instead.
func (s *sound) begins(what string, at source.Span, marks string) {
	text := at.Text()
	if text != "" && strings.IndexByte(marks, text[0]) >= 0 || marks == "#" && strings.ContainsAny(text, "\r\n") {
		return
	}
	s.say("%s %q does not begin with one of %q", what, text, marks)
}

func (s *sound) blocks(list []Block, left *source.Span) {
	for _, b := range list {
		s.next(fmt.Sprintf("%T", b), b.Span(), left)
		own := b.Span()
		switch b := b.(type) {
		case *Paragraph:
			s.inlines(b.Text, &own)
		case *Heading:
			s.begins("heading", b.At, "#")
			s.inlines(b.Text, &own)
		case *Quote:
			s.begins("quote", b.At, ">")
			if b.Signal != "" {
				s.next("signal", b.SignalAt, &own)
				s.same("signal", b.SignalAt, b.Signal)
			}
			s.inlines(b.Text, &own)
		case *List:
			marks := "-+*"
			if b.Ordered {
				marks = "0123456789"
			}
			for _, item := range b.Items {
				s.next("item", item.At, &own)
				s.begins("item", item.At, marks)
				inner := item.At
				inner.Start++
				s.blocks(item.Blocks, &inner)
			}
		case *Table:
			s.table(b, own)
		case *Layout:
			s.layout(b, own)
		case *Stack:
			s.begins("stack", b.At, "`~")
			s.next("stack name", b.NameAt, &own)
			s.next("stack target", b.TarAt, &own)
			for _, l := range b.Lines {
				s.next("stack line", l.At, &own)
				s.same("stack line", l.At, l.Text)
			}
		}
	}
}

func (s *sound) same(what string, at source.Span, text string) {
	if at.Text() != text {
		s.say("%s reads %q where %q stands", what, text, at.Text())
	}
}

func (s *sound) table(t *Table, own source.Span) {
	for _, c := range t.Head {
		s.next("head", c.At, &own)
	}
	for _, r := range t.Rows {
		s.next("row", r.At, &own)
		if len(r.Cells) != len(t.Head) {
			s.say("a row has %d cells under a head of %d", len(r.Cells), len(t.Head))
		}
		left := r.At
		for _, c := range r.Cells {
			s.next("cell", c.At, &left)
			if c.from == nil {
				s.same("cell", c.At, c.Text)
				continue
			}
			for i := range c.Text {
				s.inside("part of a cell", c.Part(i, i+1), c.At)
			}
		}
	}
}

func (s *sound) layout(l *Layout, own source.Span) {
	s.begins("layout", l.At, "`~")
	s.next("layout name", l.NameAt, &own)
	for c, at := range l.NameOf {
		s.inside("legend", at, own)
		s.same("legend", at, l.Names[c])
	}
	for _, p := range l.Places {
		s.next("place", p.At, &own)
		if p.Mark != 0 && !strings.EqualFold(p.At.Text(), string(rune(p.Mark))) || p.X < 0 {
			s.say("place %d,%d %q is drawn as %q", p.X, p.Y, p.Mark, p.At.Text())
		}
	}
}

func (s *sound) inlines(list []Inline, left *source.Span) {
	for _, i := range list {
		block := *left
		s.next(fmt.Sprintf("%T", i), i.Span(), left)
		switch i := i.(type) {
		case *Text:
			s.text(i)
		case *Image:
			if text := i.At.Text(); !strings.HasPrefix(text, "![") || !strings.HasSuffix(text, "]") && !strings.HasSuffix(text, ")") {
				s.say("the image stands at %q", text)
			}
			s.inside("caption", i.AltAt, i.At)
			s.inside("path", i.PathAt, i.At)
		case *Tag:
			s.tag(i, block)
		}
	}
}

func (s *sound) text(t *Text) {
	typed := t.At.Text()
	if t.Text == "" || !t.moved && t.Text != typed && t.Text != typed+" " && t.Text != strings.TrimRight(typed, " ")+" " {
		s.say("text reads %q where %q stands", t.Text, typed)
	}
}

func (s *sound) tag(t *Tag, block source.Span) {
	if typed := t.At.Text(); t.Unclosed && typed != "{" || !t.Unclosed && (!strings.HasPrefix(typed, "{") || !strings.HasSuffix(typed, "}") || len(typed) < 2) {
		s.say("the tag stands at %q", typed)
	}
	parent := t.At
	if t.Unclosed {
		parent = block
	}
	s.raw(t.Whole, parent)
	if t.Verb == nil {
		return
	}
	s.raw(t.Body, t.At)
	s.inside("verb", t.VerbAt, t.At)
	if t.Body.Text != "" && !strings.HasSuffix(t.Whole.Text, t.Body.Text) {
		s.say("the body %q is no end of %q", t.Body.Text, t.Whole.Text)
	}
}

// raw wants each byte of a tag's text where it says that it came from.
func (s *sound) raw(r Raw, parent source.Span) {
	if r.from != nil && len(r.from) != len(r.Text)+1 {
		s.say("%q has %d offsets", r.Text, len(r.from))
		return
	}
	last := 0
	for i := range len(r.Text) {
		at := r.Offset(i)
		if at < last || at < parent.Start || at >= parent.End {
			s.say("byte %d of %q came from %d, outside %d-%d", i, r.Text, at, parent.Start, parent.End)
			return
		}
		if c := s.file.Text[at]; c != r.Text[i] && r.Text[i] != ' ' {
			s.say("byte %d of %q came from %q", i, r.Text, c)
		}
		last = at
	}
	s.inside("text of a tag", r.At(0, len(r.Text)), parent)
}

func wantSound(t *testing.T, tree *Tree) {
	t.Helper()
	for _, p := range problems(tree) {
		t.Error(p)
	}
	if t.Failed() && len(tree.File.Text) < 2000 {
		var b strings.Builder
		tree.Dump(&b)
		t.Logf("of %q:\n%s", tree.File.Text, b.String())
	}
}
