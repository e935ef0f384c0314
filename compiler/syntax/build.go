package syntax

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// builder turns the Markdown library's tree into ours.
type builder struct {
	tree     *Tree
	file     *source.File
	src      []byte // what the Markdown library saw: as long as the file's text, with the front matter blanked
	verbs    *verb.Table
	watch    *watch
	reached  int               // how many of the marked nodes lie behind
	where    string            // where a tag does nothing, such as "a heading"; empty where tags are read
	lastOpen int               // behind the last brace that never closes, -1 before the first
	tornAt   int               // the brace that tore it: what stands there is no slip of its own
	hints    map[string]string // verbs offered so far

	pile   []Block        // of the blocks that are being read, those that are done
	line   []Inline       // of the text that is being read
	inside []text.Segment // of the tag that is being read

	oneLine [1]text.Segment // the entry of a plain list that is being read

	texts       slab[Text]
	tags        slab[Tag]
	paragraphs  slab[Paragraph]
	items       slab[Item]
	blockLists  slab[Block]
	inlineLists slab[Inline]
}

// place finds where a marked node begins and ends. They are asked for in the order of the file, in which they were marked.
func (b *builder) place(n ast.Node) place {
	for range 2 {
		for i := b.reached; i < len(b.watch.marked); i++ {
			if b.watch.marked[i].Node == n {
				b.reached = i
				return b.watch.marked[i].place
			}
		}
		b.reached = 0
	}
	return place{}
}

func (b *builder) fault(name string, at source.Span, words ...string) {
	b.tree.Faults = append(b.tree.Faults, source.Fault{Name: name, At: at, Words: words})
}

func (b *builder) document(doc ast.Node) {
	b.tags.more(bytes.Count(b.src, []byte("{"))) // most of a tree is tags
	var current *Section
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok && h.Level == 2 {
			b.endSection(current)
			title := plain(b.hiding(h, "a heading"))
			current = &Section{Title: title, TitleAt: b.lines(h), At: b.headingSpan(h)}
			b.tree.Sections = append(b.tree.Sections, current)
			continue
		}
		b.block(n)
	}
	b.endSection(current)
}

// endSection gives a section the blocks that were read since it began; nil is the introduction.
func (b *builder) endSection(s *Section) {
	blocks := b.taken(0)
	if s == nil {
		b.tree.Intro = blocks
		return
	}
	s.Blocks = blocks
	for _, block := range blocks {
		s.At.End = max(s.At.End, block.Span().End)
	}
}

// taken takes the blocks from the given one off the pile.
func (b *builder) taken(from int) []Block {
	blocks := b.blockLists.keep(b.pile[from:])
	b.pile = b.pile[:from]
	return blocks
}

// clamp keeps an offset inside the file: behind tabs the library's may lie past its end.
func (b *builder) clamp(at int) int { return min(max(at, 0), len(b.src)) }

// segments are the lines of a block; a block of HTML may have one more, which closes it.
func segments(n ast.Node) []text.Segment {
	lines := n.Lines()
	if lines == nil {
		return nil
	}
	list := lines.Sliced(0, lines.Len())
	if h, ok := n.(*ast.HTMLBlock); ok && h.HasClosure() {
		list = append(list[:len(list):len(list)], h.ClosureLine)
	}
	return list
}

// lines is the span of a block's own lines, trimmed of white space.
func (b *builder) lines(n ast.Node) source.Span {
	list := segments(n)
	if len(list) == 0 {
		switch n.Kind() {
		case ast.KindHeading, ast.KindFencedCodeBlock:
			end := b.place(n).end
			return b.file.At(end, end)
		}
		at := b.clamp(n.Pos())
		return b.file.At(at, at)
	}
	return b.trimmed(list[0].Start, list[len(list)-1].Stop)
}

// trimmed is a span without white space at its ends.
func (b *builder) trimmed(start, end int) source.Span {
	start, end = b.clamp(start), b.clamp(end)
	start = skipBlanks(b.src, start, end)
	return b.file.At(start, trimBlanks(b.src, start, end))
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// block turns one block into ours and puts it on the pile; HTML and rules give none.
func (b *builder) block(n ast.Node) {
	switch n := n.(type) {
	case *ast.Heading:
		b.put(&Heading{At: b.headingSpan(n), Level: n.Level, Text: b.hiding(n, "a heading")})
	case *ast.Paragraph, *ast.TextBlock:
		b.paragraph(b.lines(n), b.inlines(n))
	case *ast.List:
		b.put(b.list(n))
	case *itemsNode:
		b.put(b.plainList(n))
	case *ast.Blockquote:
		b.put(b.quote(n))
	case *tableNode:
		b.put(b.table(n))
	case *ast.FencedCodeBlock:
		b.fenced(n)
	case *ast.CodeBlock:
		b.typed(n, "an indented block")
	case *ast.HTMLBlock:
		b.hidden(segments(n), "HTML")
	}
}

func (b *builder) put(block Block) { b.pile = append(b.pile, block) }

func (b *builder) paragraph(at source.Span, words []Inline) {
	p := b.paragraphs.one()
	p.At, p.Text = at, words
	b.put(p)
}

// headingSpan is a heading with its marks, before it, behind it or under it.
func (b *builder) headingSpan(h *ast.Heading) source.Span {
	words := b.lines(h)
	p := b.place(h)
	start := words.Start
	if p.start >= 0 {
		start = min(start, p.start)
	}
	return b.file.At(start, max(p.end, words.End))
}

// typed puts a block of code on the pile: it prints as it was typed.
func (b *builder) typed(n ast.Node, place string) {
	b.hidden(segments(n), place)
	if text := b.typedText(n); text != nil {
		b.paragraph(text.At, []Inline{text})
	}
}

// typedText is the text of a block of code, without the marks of the blocks around it; nil when there is none.
func (b *builder) typedText(n ast.Node) *Text {
	at := b.lines(n)
	if at.Start == at.End {
		return nil
	}
	var words []byte
	for _, l := range segments(n) {
		line := b.src[b.clamp(l.Start):b.clamp(l.Stop)]
		words = append(words, line[:trimBlanks(line, 0, len(line))]...)
		words = append(words, '\n')
	}
	start := skipBlanks(words, 0, len(words))
	return &Text{At: at, Text: string(words[start:trimBlanks(words, start, len(words))]), Code: true, moved: true}
}

func (b *builder) list(n *ast.List) *List {
	items := make([]*Item, 0, n.ChildCount())
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		item, p, from := b.items.one(), b.place(c), len(b.pile)
		for k := c.FirstChild(); k != nil; k = k.NextSibling() {
			b.block(k)
		}
		item.Blocks = b.taken(from)
		item.At = b.file.At(p.start, p.end) // the mark alone
		if k := len(item.Blocks); k > 0 {
			item.At.End = max(item.At.End, item.Blocks[k-1].Span().End)
		}
		items = append(items, item)
	}
	l := &List{Ordered: n.IsOrdered(), Items: items}
	if len(items) > 0 {
		l.At = items[0].At.To(items[len(items)-1].At)
	}
	return l
}
