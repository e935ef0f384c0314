package syntax

import "refitcard/compiler/source"

// Size is how much a file holds of what costs work further on.
type Size struct {
	Rows   int // in all tables
	Items  int // in all lists, nested ones too
	Tags   int
	Blocks int // paragraphs, quotes, headings and whatever else stands by itself
	Places int // of fasteners, in all layouts
}

// Add gives the sum of two sizes.
func (s Size) Add(t Size) Size {
	return Size{s.Rows + t.Rows, s.Items + t.Items, s.Tags + t.Tags, s.Blocks + t.Blocks, s.Places + t.Places}
}

// Over gives the first limit that a size is beyond: of what there is too much, how much, and the limit. No job card comes
// near one of them; without them a file of the greatest size could take minutes, because some checks hold everything against
// everything else.
func (s Size) Over() (what string, is, limit int, over bool) {
	for _, c := range []struct {
		what      string
		is, limit int
	}{
		{"rows in tables", s.Rows, 2000},
		{"entries in lists", s.Items, 6000},
		{"tags", s.Tags, 10_000},
		{"paragraphs", s.Blocks, 20_000},
		{"places in layouts", s.Places, 2000},
	} {
		if c.is > c.limit {
			return c.what, c.is, c.limit, true
		}
	}
	return "", 0, 0, false
}

// The limits on single pieces. A page of a book has about 2,500 characters.
const (
	maxText   = 5000   // bytes in a paragraph, a heading or a cell
	maxFront  = 32_768 // bytes in the front matter
	maxFaults = 1000   // places that can't be read
)

// gauge measures a tree.
type gauge struct {
	Size
	long source.Span // the first text that is too long
}

// Size tells how much a tree holds.
func (t *Tree) Size() Size { return t.size }

func (g *gauge) blocks(list []Block) {
	for _, b := range list {
		g.Blocks++
		switch b := b.(type) {
		case *Heading:
			g.text(b.At, b.Text)
		case *Paragraph:
			g.text(b.At, b.Text)
		case *Quote:
			g.text(b.At, b.Text)
		case *List:
			g.Items += len(b.Items)
			for _, i := range b.Items {
				g.blocks(i.Blocks)
			}
		case *Table:
			g.Rows += len(b.Rows)
			g.cells(b.Head)
			for _, r := range b.Rows {
				g.cells(r.Cells)
			}
		case *Layout:
			g.Places += len(b.Places)
			g.text(b.NameAt, nil)
		case *Stack:
			g.Items += len(b.Lines)
			g.text(b.NameAt, nil)
		}
	}
}

func (g *gauge) cells(list []Cell) {
	for _, c := range list {
		g.text(c.At, nil)
	}
}

func (g *gauge) text(at source.Span, list []Inline) {
	if at.End-at.Start > maxText && !g.long.Known() {
		g.long = at
	}
	for _, i := range list {
		if _, ok := i.(*Tag); ok {
			g.Tags++
		}
	}
}

// oversize measures a tree, and tells of the first thing in it that is beyond its limit.
func (t *Tree) oversize() (source.Fault, bool) {
	var g gauge
	g.blocks(t.Intro)
	for _, s := range t.Sections {
		g.text(s.TitleAt, nil)
		g.blocks(s.Blocks)
	}
	t.size = g.Size
	if what, is, limit, over := t.size.Over(); over {
		return tooLarge(t.File.At(0, 0), what, is, limit), true
	}
	if g.long.Known() {
		return tooLarge(startOf(g.long), "bytes in one text", g.long.End-g.long.Start, maxText), true
	}
	if n := len(t.Faults); n > maxFaults {
		return tooLarge(startOf(t.Faults[0].At), "places that can't be read", n, maxFaults), true
	}
	return source.Fault{}, false
}
