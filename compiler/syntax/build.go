package syntax

import (
	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
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
	places   map[ast.Node]place
	where    string            // where a tag does nothing, such as "a heading"; empty where tags are read
	lastOpen int               // behind the last brace that never closes, -1 before the first
	tornAt   int               // the brace that tore it: what stands there is no slip of its own
	hints    map[string]string // verbs offered so far
}

func (b *builder) fault(name string, at source.Span, words ...string) {
	b.tree.Faults = append(b.tree.Faults, source.Fault{Name: name, At: at, Words: words})
}

func (b *builder) document(doc ast.Node) {
	var current *Section
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok && h.Level == 2 {
			title := plain(b.hiding(h, "a heading"))
			current = &Section{Title: title, TitleAt: b.lines(h), At: b.headingSpan(h)}
			b.tree.Sections = append(b.tree.Sections, current)
			continue
		}
		for _, block := range b.block(n) {
			if current == nil {
				b.tree.Intro = append(b.tree.Intro, block)
				continue
			}
			current.Blocks = append(current.Blocks, block)
			current.At.End = max(current.At.End, block.Span().End)
		}
	}
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
		p, ok := b.places[n]
		if !ok {
			at := b.clamp(n.Pos())
			return b.file.At(at, at)
		}
		return b.file.At(p.end, p.end)
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

// block turns one block into ours; HTML and rules give none.
func (b *builder) block(n ast.Node) []Block {
	switch n := n.(type) {
	case *ast.Heading:
		return []Block{&Heading{At: b.headingSpan(n), Level: n.Level, Text: b.hiding(n, "a heading")}}
	case *ast.Paragraph, *ast.TextBlock:
		return []Block{&Paragraph{At: b.lines(n), Text: b.inlines(n)}}
	case *ast.List:
		return []Block{b.list(n)}
	case *ast.Blockquote:
		return []Block{b.quote(n)}
	case *extast.Table:
		return []Block{b.table(n)}
	case *ast.FencedCodeBlock:
		return b.fenced(n)
	case *ast.CodeBlock:
		return b.typed(n, "an indented block")
	case *ast.HTMLBlock:
		b.hidden(segments(n), "HTML")
	}
	return nil
}

// headingSpan is a heading with its marks, before it, behind it or under it.
func (b *builder) headingSpan(h *ast.Heading) source.Span {
	words := b.lines(h)
	p, ok := b.places[h]
	if !ok {
		return words
	}
	start := words.Start
	if p.start >= 0 {
		start = min(start, p.start)
	}
	return b.file.At(start, max(p.end, words.End))
}

// typed gives a block of code: it prints as it was typed.
func (b *builder) typed(n ast.Node, place string) []Block {
	b.hidden(segments(n), place)
	text := b.typedText(n)
	if text == nil {
		return nil
	}
	return []Block{&Paragraph{At: text.At, Text: []Inline{text}}}
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
	l := &List{Ordered: n.IsOrdered()}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		item := &Item{}
		for k := c.FirstChild(); k != nil; k = k.NextSibling() {
			item.Blocks = append(item.Blocks, b.block(k)...)
		}
		p := b.places[c]
		item.At = b.file.At(p.start, p.end) // the mark alone
		if k := len(item.Blocks); k > 0 {
			item.At.End = max(item.At.End, item.Blocks[k-1].Span().End)
		}
		l.Items = append(l.Items, item)
	}
	if len(l.Items) > 0 {
		l.At = l.Items[0].At.To(l.Items[len(l.Items)-1].At)
	}
	return l
}
