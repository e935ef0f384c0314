package syntax

import (
	"fmt"
	"io"
	"strings"
)

// Dump prints the tree with the place of every node, for tests and for people who wonder.
func (t *Tree) Dump(w io.Writer) {
	for _, b := range t.Intro {
		dump(w, b, 0)
	}
	for _, s := range t.Sections {
		fmt.Fprintf(w, "section %q %d-%d\n", s.Title, s.At.Start, s.At.End)
		for _, b := range s.Blocks {
			dump(w, b, 1)
		}
	}
	for _, f := range t.Faults {
		fmt.Fprintf(w, "fault %s %q at %q\n", f.Name, f.Words, f.At.Text())
	}
}

func dump(w io.Writer, b Block, depth int) {
	pad := strings.Repeat("  ", depth)
	at := b.Span()
	head := func(kind string, more ...any) {
		fmt.Fprintf(w, "%s%s %d-%d%s\n", pad, kind, at.Start, at.End, fmt.Sprint(more...))
	}
	switch b := b.(type) {
	case *Heading:
		head("heading", " level ", b.Level)
		inlines(w, b.Text, pad)
	case *Paragraph:
		head("paragraph")
		inlines(w, b.Text, pad)
	case *Quote:
		head("quote", " ", b.Signal)
		inlines(w, b.Text, pad)
	case *List:
		head("list", " ordered ", b.Ordered)
		for _, i := range b.Items {
			fmt.Fprintf(w, "%s  item %d-%d\n", pad, i.At.Start, i.At.End)
			for _, k := range i.Blocks {
				dump(w, k, depth+2)
			}
		}
	case *Table:
		head("table")
		for _, r := range b.Rows {
			fmt.Fprintf(w, "%s  row", pad)
			for _, c := range r.Cells {
				fmt.Fprintf(w, " %q", c.Text)
			}
			fmt.Fprintln(w)
		}
	case *Layout:
		head("layout", " ", b.Name, " places ", len(b.Places))
	case *Stack:
		head("stack", " ", b.Name, " target ", b.Target)
	}
}

func inlines(w io.Writer, list []Inline, pad string) {
	for _, i := range list {
		at := i.Span()
		switch i := i.(type) {
		case *Text:
			fmt.Fprintf(w, "%s  text %q %d-%d\n", pad, i.Text, at.Start, at.End)
		case *Tag:
			name := "?"
			if i.Verb != nil {
				name = i.Verb.Name
			}
			fmt.Fprintf(w, "%s  tag %s %q %d-%d\n", pad, name, i.Body.Text, at.Start, at.End)
		case *Image:
			fmt.Fprintf(w, "%s  image %q %q %d-%d\n", pad, i.Path, i.Alt, at.Start, at.End)
		}
	}
}
