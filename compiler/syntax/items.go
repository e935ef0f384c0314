package syntax

import (
	"slices"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// kindItems is the Markdown library's name for our node.
var kindItems = ast.NewNodeKind("Items")

// itemsNode is a list of the plainest shape, in which most steps and all tools and supplies are written: each entry a line that
// begins at the margin, with nothing set in below it. The library would make three nodes of each entry.
type itemsNode struct {
	ast.BaseBlock
	ordered bool
	items   []listItem
}

// listItem is an entry: where its mark begins, and the words behind it.
type listItem struct {
	start int
	words text.Segment
	text  *ast.TextBlock // for the library to read; nil where the words are a run
}

// Kind is part of the library's node.
func (n *itemsNode) Kind() ast.NodeKind { return kindItems }

// IsRaw is part of the library's node: it has no running text of its own.
func (n *itemsNode) IsRaw() bool { return true }

// Dump is part of the library's node; it is never called here.
func (n *itemsNode) Dump([]byte, int) {}

// itemsParser reads lists of the plainest shape, and leaves any other to the library.
type itemsParser struct{ whole }

// Trigger names the characters that such a list begins with.
func (itemsParser) Trigger() []byte { return []byte("-0123456789") }

// Open reads the whole list, and leaves the reader in the line of its last entry.
func (itemsParser) Open(parent ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	if !atMargin(parent, pc) {
		return nil, parser.NoChildren
	}
	src, w := reader.Source(), watchOf(pc)
	_, at := reader.Position()
	w.items = w.items[:0]
	ordered, blank := src[at.Start] != '-', false
	for next := at.Start; next < len(src); {
		begin, stop := next, lineEnd(src, next)
		next = stop
		if stop = trimBlanks(src, begin, stop); stop == begin {
			blank = true // what stands below tells whether the list ends here
			continue
		}
		if words := plainMark(src[begin:stop], ordered); words > 0 {
			w.items = append(w.items, listItem{start: begin, words: text.NewSegment(begin+words, stop)})
			blank = false
			continue
		}
		if c := src[begin]; !blank || isBlank(c) || isBullet(c) || isDigit(c) {
			return nil, parser.NoChildren // it may belong to the last entry, or be one of another shape
		}
		break
	}
	leaveAt(reader, w.items[len(w.items)-1].start)
	return newItems(w.items, src, ordered), parser.NoChildren
}

// plainMark is the offset of the words behind the mark of an entry; 0 when the line is none, or its words may begin a block of
// their own.
func plainMark(line []byte, ordered bool) int {
	mark := 0
	if ordered {
		for mark < len(line) && mark < 9 && isDigit(line[mark]) {
			mark++
		}
		if mark == 0 || mark == len(line) || line[mark] != '.' {
			return 0
		}
	} else if line[0] != '-' {
		return 0
	}
	words := mark + 2
	if words >= len(line) || line[mark+1] != ' ' {
		return 0
	}
	c := line[words]
	if isDigit(c) {
		at := words
		for at < len(line) && isDigit(line[at]) {
			at++
		}
		if at == len(line) || line[at] == '.' || line[at] == ')' {
			return 0
		}
	} else if !isLetter(c) && c != '{' && c < utf8.RuneSelf {
		return 0
	}
	return words
}

// newItems makes a list of its entries. The library is to read those that are no runs.
func newItems(items []listItem, src []byte, ordered bool) *itemsNode {
	n := &itemsNode{ordered: ordered, items: slices.Clone(items)}
	for i := range n.items {
		item := &n.items[i]
		if !isRun(item.words.Value(src)) {
			item.text = ast.NewTextBlock()
			item.text.Lines().Append(item.words)
			n.AppendChild(n, item.text)
		}
	}
	return n
}

// plainList turns a list of the plainest shape into ours.
func (b *builder) plainList(n *itemsNode) *List {
	l := &List{Ordered: n.ordered, Items: make([]*Item, len(n.items))}
	for i, entry := range n.items {
		var words []Inline
		if entry.text != nil {
			words = b.inlines(entry.text)
		} else {
			b.oneLine[0] = entry.words
			b.line = b.run(b.line[:0], b.oneLine[:], false)
			words = b.inlineLists.keep(settled(b.line))
		}
		from := len(b.pile)
		b.paragraph(b.file.At(entry.words.Start, entry.words.Stop), words)
		item := b.items.one()
		item.At, item.Blocks = b.file.At(entry.start, entry.words.Stop), b.taken(from)
		l.Items[i] = item
	}
	l.At = l.Items[0].At.To(l.Items[len(l.Items)-1].At)
	return l
}
