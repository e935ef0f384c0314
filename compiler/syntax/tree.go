// Package syntax reads a procedure as it was written: front matter, sections, tables, steps, tags and blocks, each with
// its span. It never fails: it returns a tree and the faults it met. It is the only home of the Markdown library.
package syntax

import (
	"refitcard/compiler/keys"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Tree is one file as it was written.
type Tree struct {
	File     *source.File
	Front    *keys.Map // the front matter, nil when there is none
	FrontAt  source.Span
	Intro    []Block // what stands before the first level-2 heading
	Sections []*Section
	Faults   []source.Fault

	size    Size
	defines bool // it holds a definition of a link: that may mean something anywhere
}

// Section is a level-2 heading with all that stands below it.
type Section struct {
	Title   string
	TitleAt source.Span
	At      source.Span // heading to the end of its last block
	Blocks  []Block
}

// Block is one of *Paragraph, *List, *Table, *Quote, *Heading, *Layout, *Stack.
type Block interface{ Span() source.Span }

// Heading is a heading of level 1 or of 3 and more; it prints as a note in bold and groups nothing. At holds its marks.
type Heading struct {
	At    source.Span
	Level int
	Text  []Inline
}

// Paragraph is running text.
type Paragraph struct {
	At   source.Span
	Text []Inline
}

// List is an ordered or a bulleted list.
type List struct {
	At      source.Span
	Ordered bool
	Items   []*Item
}

// Item is one entry of a list: usually a paragraph, then nested lists, quotes, images, blocks.
type Item struct {
	At     source.Span
	Blocks []Block
}

// Table is a table; every row has as many cells as the head (missing ones are empty and have an empty span at its end).
type Table struct {
	At   source.Span
	Head []Cell
	Rows []Row
}

// Row is one row of a table.
type Row struct {
	At    source.Span
	Cells []Cell
}

// Cell is one cell; its text has its escapes resolved, its span is trimmed of white space and of marks around it all.
type Cell struct {
	At   source.Span
	Text string

	from []int32 // offset of each byte of Text and of its end, where escapes or entities moved them; else nil
}

// Part is the place in the file of Text[start:end], behind escapes and entities too.
func (c Cell) Part(start, end int) source.Span {
	if c.from == nil {
		start = min(max(start, 0), c.At.End-c.At.Start)
		return c.At.File.At(c.At.Start+start, min(c.At.Start+end, c.At.End))
	}
	start = min(max(start, 0), len(c.from)-1)
	end = min(max(end, start), len(c.from)-1)
	return c.At.File.At(int(c.from[start]), int(c.from[end]))
}

// Quote is a block quote. Signal is DANGER, WARNING, CAUTION, NOTICE, or empty for a note;
// Question is true for an open question of a draft ("> question: …").
type Quote struct {
	At       source.Span
	Signal   string
	SignalAt source.Span
	Question bool
	Text     []Inline // without the signal word; paragraphs joined by a Break
}

// Layout is a drawing of the places of fasteners.
type Layout struct {
	At     source.Span // with its fences
	Name   string      // behind the word "layout"
	NameAt source.Span
	Places []Place
	Names  map[byte]string      // letter → part, from the lines "a = guard bolt"
	NameOf map[byte]source.Span // where that name stands
}

// Place is one fastener of a layout: X in characters, Y in lines, from 0. Mark is 'o', a letter, or 0 when Order is set.
type Place struct {
	X, Y  int
	Mark  byte
	Order int // fixed by digits, from 1; 0 when not
	At    source.Span
}

// Stack is a pile of parts with its target.
type Stack struct {
	At     source.Span // with its fences
	Name   string      // the words before the target
	NameAt source.Span
	Target string // "38.6..39.4 mm", as typed
	TarAt  source.Span
	Lines  []StackLine
}

// StackLine is one line of a stack, "8 filter disc alternating with 7 spacer ring".
type StackLine struct {
	At   source.Span
	Text string
}

// Inline is a piece of running text: *Text, *Tag, *Image or *Break.
type Inline interface{ Span() source.Span }

// Text is plain words, escapes and entities resolved. Bold is kept only as a flag; links give their words. It is cut where
// an escape or an entity stands, so that its words are byte for byte those at its place, save for the space that it ends
// with in place of a line end; an entity is a Text of its own.
type Text struct {
	At   source.Span
	Text string
	Bold bool
	Code bool // from a code span: no word in it is an act

	moved  bool // Text is not what stands in the file: an entity, a block of code
	broken bool // a line end stands behind it: a space
}

// Break is the end of a paragraph inside an item or a quote.
type Break struct{ At source.Span }

// Image is a figure. Where its path is given by reference, PathAt is the name of the reference.
type Image struct {
	At     source.Span // from the exclamation mark to the last bracket
	Path   string
	PathAt source.Span
	Alt    string
	AltAt  source.Span // all between the square brackets
	Title  string      // the words in quotes behind the path, if any
}

// Tag is `{verb body}`. Verb is nil when the verb is unknown or missing (there is a fault then, and the body's words print as typed).
type Tag struct {
	At     source.Span // with its braces
	Verb   *verb.Verb
	VerbAt source.Span
	Body   Raw // what stands behind the verb, trimmed
	Whole  Raw // all between the braces, trimmed: what prints for an act
	// Unclosed: the brace never closes. At is the brace alone, Whole what stood behind it up to the next brace or the
	// end of the block; those words stand in the running text too.
	Unclosed bool
}

// Raw is text of a tag with its escapes resolved and line ends turned into spaces, that still knows where each byte came from.
type Raw struct {
	Text string
	File *source.File

	start int     // where Text stands in the file, where it stands there as it is
	from  []int32 // else the offset of each byte of Text, and one more for the end
}

// Offset is where byte i of Text stands in the file; that of the end for its length.
func (r Raw) Offset(i int) int {
	if r.from == nil {
		return r.start + i
	}
	return int(r.from[i])
}

// At is the place in the file of Text[start:end].
func (r Raw) At(start, end int) source.Span {
	if r.File == nil {
		return source.Span{}
	}
	start = min(max(start, 0), len(r.Text))
	end = min(max(end, start), len(r.Text))
	first, stop := r.Offset(start), r.Offset(end)
	if end > start {
		stop = r.Offset(end-1) + 1
		// The backslash of an escape goes with what it escapes.
		if first > 0 && isEscaped(r.Text[start]) && r.File.Text[first-1] == '\\' {
			first--
		}
	}
	return r.File.At(first, stop)
}

// Cut is the piece Text[start:end] as a Raw of its own.
func (r Raw) Cut(start, end int) Raw {
	cut := Raw{Text: r.Text[start:end], File: r.File, start: r.start + start}
	if r.from != nil {
		cut.from = r.from[start : end+1]
	}
	return cut
}

// Span is where the heading stands.
func (n *Heading) Span() source.Span { return n.At }

// Span is where the paragraph stands.
func (n *Paragraph) Span() source.Span { return n.At }

// Span is where the list stands.
func (n *List) Span() source.Span { return n.At }

// Span is where the table stands.
func (n *Table) Span() source.Span { return n.At }

// Span is where the quote stands.
func (n *Quote) Span() source.Span { return n.At }

// Span is where the drawing stands, with its fences.
func (n *Layout) Span() source.Span { return n.At }

// Span is where the pile stands, with its fences.
func (n *Stack) Span() source.Span { return n.At }

// Span is where the text stands.
func (n *Text) Span() source.Span { return n.At }

// Span is where the line break stands.
func (n *Break) Span() source.Span { return n.At }

// Span is where the image stands.
func (n *Image) Span() source.Span { return n.At }

// Span is where the tag stands, with its braces.
func (n *Tag) Span() source.Span { return n.At }

// EachBlock visits every block of the file, those inside of list entries too, with the section that it stands in; nil in the
// introduction.
func (t *Tree) EachBlock(visit func(*Section, Block)) {
	var walk func(s *Section, list []Block)
	walk = func(s *Section, list []Block) {
		for _, b := range list {
			visit(s, b)
			if l, ok := b.(*List); ok {
				for _, item := range l.Items {
					walk(s, item.Blocks)
				}
			}
		}
	}
	walk(nil, t.Intro)
	for _, s := range t.Sections {
		walk(s, s.Blocks)
	}
}
