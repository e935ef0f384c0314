package syntax

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"refitcard/compiler/source"
)

// Dump prints the tree for tests and for people who wonder: each node with the text that stands at its place, and behind an
// arrow what it reads as where that differs.
func (t *Tree) Dump(w io.Writer) {
	if t.FrontAt.Known() {
		line(w, 0, "front", t.FrontAt, "")
	}
	for _, b := range t.Intro {
		dump(w, b, 0)
	}
	for _, s := range t.Sections {
		line(w, 0, "section", s.At, "")
		line(w, 1, "title", s.TitleAt, s.Title)
		for _, b := range s.Blocks {
			dump(w, b, 1)
		}
	}
	for _, f := range t.Faults {
		fmt.Fprintf(w, "fault %s at %q", f.Name, f.At.Text())
		if len(f.Words) > 0 {
			fmt.Fprintf(w, " words %q", f.Words)
		}
		if len(f.Counts) > 0 {
			fmt.Fprintf(w, " counts %d", f.Counts)
		}
		fmt.Fprintln(w)
	}
}

// line prints one node; reads is left out when it is empty or what stands there.
func line(w io.Writer, depth int, kind string, at source.Span, reads string) {
	fmt.Fprintf(w, "%s%s %q", strings.Repeat("  ", depth), kind, at.Text())
	if reads != "" && reads != at.Text() {
		fmt.Fprintf(w, " -> %q", reads)
	}
	fmt.Fprintln(w)
}

func dump(w io.Writer, b Block, depth int) {
	switch b := b.(type) {
	case *Heading:
		line(w, depth, fmt.Sprint("heading ", b.Level), b.At, "")
		inlines(w, b.Text, depth+1)
	case *Paragraph:
		line(w, depth, "paragraph", b.At, "")
		inlines(w, b.Text, depth+1)
	case *Quote:
		line(w, depth, "quote", b.At, "")
		if b.Signal != "" {
			line(w, depth+1, "signal", b.SignalAt, b.Signal)
		}
		inlines(w, b.Text, depth+1)
	case *List:
		kind := "bullets"
		if b.Ordered {
			kind = "numbers"
		}
		line(w, depth, kind, b.At, "")
		for _, i := range b.Items {
			line(w, depth+1, "item", i.At, "")
			for _, k := range i.Blocks {
				dump(w, k, depth+2)
			}
		}
	case *Table:
		line(w, depth, "table", b.At, "")
		cells(w, "head", b.Head, depth+1)
		for _, r := range b.Rows {
			line(w, depth+1, "row", r.At, "")
			cells(w, "cell", r.Cells, depth+2)
		}
	case *Layout:
		dumpLayout(w, b, depth)
	case *Stack:
		line(w, depth, "stack", b.At, "")
		line(w, depth+1, "name", b.NameAt, b.Name)
		line(w, depth+1, "target", b.TarAt, b.Target)
		for _, l := range b.Lines {
			line(w, depth+1, "layer", l.At, l.Text)
		}
	}
}

func cells(w io.Writer, kind string, list []Cell, depth int) {
	for _, c := range list {
		line(w, depth, kind, c.At, c.Text)
	}
}

func dumpLayout(w io.Writer, l *Layout, depth int) {
	line(w, depth, "layout", l.At, "")
	line(w, depth+1, "name", l.NameAt, l.Name)
	for _, p := range l.Places {
		mark := string(rune(p.Mark))
		if p.Mark == 0 {
			mark = fmt.Sprint(p.Order)
		}
		line(w, depth+1, fmt.Sprintf("place %d,%d", p.X, p.Y), p.At, mark)
	}
	for _, c := range slices.Sorted(maps.Keys(l.Names)) {
		line(w, depth+1, fmt.Sprintf("letter %c", c), l.NameOf[c], l.Names[c])
	}
}

func inlines(w io.Writer, list []Inline, depth int) {
	for _, i := range list {
		switch i := i.(type) {
		case *Text:
			kind := "text"
			if i.Bold {
				kind = "bold " + kind
			}
			if i.Code {
				kind = "code " + kind
			}
			line(w, depth, kind, i.At, i.Text)
		case *Break:
			line(w, depth, "break", i.At, "")
		case *Tag:
			dumpTag(w, i, depth)
		case *Image:
			line(w, depth, "image", i.At, "")
			line(w, depth+1, "caption", i.AltAt, i.Alt)
			line(w, depth+1, "path", i.PathAt, i.Path)
			if i.Title != "" {
				fmt.Fprintf(w, "%stitle %q\n", strings.Repeat("  ", depth+1), i.Title)
			}
		}
	}
}

func dumpTag(w io.Writer, t *Tag, depth int) {
	if t.Unclosed {
		fmt.Fprintf(w, "%sunclosed %q behind it %q\n", strings.Repeat("  ", depth), t.At.Text(), t.Whole.Text)
		return
	}
	line(w, depth, "tag", t.At, "")
	switch {
	case t.Verb != nil:
		line(w, depth+1, "verb", t.VerbAt, t.Verb.Name)
		if t.Body.Text != "" {
			line(w, depth+1, "body", t.Body.At(0, len(t.Body.Text)), t.Body.Text)
		}
	case t.Whole.Text != "":
		line(w, depth+1, "no verb", t.VerbAt, "")
		line(w, depth+1, "words", t.Whole.At(0, len(t.Whole.Text)), t.Whole.Text)
	}
}
