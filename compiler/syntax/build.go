package syntax

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// builder turns the Markdown library's tree into ours.
type builder struct {
	tree  *Tree
	file  *source.File
	src   []byte // the file's text, with the front matter blanked
	verbs *verb.Table
}

func (b *builder) fault(name string, at source.Span, words ...string) {
	b.tree.Faults = append(b.tree.Faults, source.Fault{Name: name, At: at, Words: words})
}

func (b *builder) document(doc ast.Node) {
	var current *Section
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok && h.Level == 2 {
			current = b.section(h)
			b.tree.Sections = append(b.tree.Sections, current)
			continue
		}
		for _, block := range b.block(n) {
			if current == nil {
				b.tree.Intro = append(b.tree.Intro, block)
				continue
			}
			current.Blocks = append(current.Blocks, block)
			if end := block.Span().End; end > current.At.End {
				current.At.End = end
			}
		}
	}
}

func (b *builder) section(h *ast.Heading) *Section {
	at := b.lines(h)
	text := b.inlines(h, false)
	b.hide(text, "a heading")
	// The heading's own span begins with its marks.
	line := b.file.LineSpan(b.file.Line(at.Start))
	return &Section{Title: plain(text), TitleAt: at, At: b.file.At(line.Start, max(line.End, at.End)), Blocks: nil}
}

// lines is the span of a block's own lines, trimmed of white space.
func (b *builder) lines(n ast.Node) source.Span {
	segments := n.Lines()
	if segments == nil || segments.Len() == 0 {
		p := min(max(n.Pos(), 0), len(b.src))
		return b.file.At(p, p)
	}
	return b.trimmed(segments.At(0).Start, segments.At(segments.Len()-1).Stop)
}

// trimmed is a span without white space at its ends.
func (b *builder) trimmed(start, end int) source.Span {
	start, end = min(max(start, 0), len(b.src)), min(max(end, 0), len(b.src))
	for start < end && isBlank(b.src[start]) {
		start++
	}
	for end > start && isBlank(b.src[end-1]) {
		end--
	}
	return b.file.At(start, end)
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// block turns one block into ours; HTML and rules give none.
func (b *builder) block(n ast.Node) []Block {
	switch n := n.(type) {
	case *ast.Heading:
		h := &Heading{At: b.lines(n), Level: n.Level, Text: b.inlines(n, false)}
		b.hide(h.Text, "a heading")
		return []Block{h}
	case *ast.Paragraph, *ast.TextBlock:
		return []Block{&Paragraph{At: b.lines(n), Text: b.inlines(n, false)}}
	case *ast.List:
		return []Block{b.list(n)}
	case *ast.Blockquote:
		return []Block{b.quote(n)}
	case *extast.Table:
		return []Block{b.table(n)}
	case *ast.FencedCodeBlock:
		return b.fenced(n)
	case *ast.CodeBlock:
		b.hidden(b.lines(n), "an indented block")
	case *ast.HTMLBlock:
		at := b.lines(n)
		if n.HasClosure() {
			at = b.trimmed(at.Start, n.ClosureLine.Stop)
		}
		b.hidden(at, "HTML")
	}
	return nil
}

func (b *builder) list(n *ast.List) *List {
	l := &List{Ordered: n.IsOrdered()}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		item := &Item{}
		for k := c.FirstChild(); k != nil; k = k.NextSibling() {
			item.Blocks = append(item.Blocks, b.block(k)...)
		}
		item.At = b.itemSpan(c, item.Blocks)
		l.Items = append(l.Items, item)
	}
	if len(l.Items) > 0 {
		l.At = l.Items[0].At.To(l.Items[len(l.Items)-1].At)
	}
	return l
}

// itemSpan is an entry from its mark to the end of its last block.
func (b *builder) itemSpan(n ast.Node, blocks []Block) source.Span {
	start := min(max(n.Pos(), 0), len(b.src))
	if len(blocks) == 0 {
		return b.file.At(start, start)
	}
	first, last := blocks[0].Span(), blocks[len(blocks)-1].Span()
	// Positions behind tabs can't be trusted: the first block's start can.
	if start > first.Start || b.file.Line(start) != b.file.Line(first.Start) {
		start = first.Start
	}
	return b.file.At(start, max(last.End, first.End))
}

func (b *builder) quote(n *ast.Blockquote) *Quote {
	q := &Quote{}
	b.flatten(n, &q.Text)
	start := min(max(n.Pos(), 0), len(b.src))
	end := start
	for _, i := range q.Text {
		end = max(end, i.Span().End)
	}
	if len(q.Text) > 0 && (start > q.Text[0].Span().Start || b.file.Line(start) != b.file.Line(q.Text[0].Span().Start)) {
		start = q.Text[0].Span().Start
	}
	q.At = b.file.At(start, end)
	q.signal()
	if rest, ok := cutFold(strings.TrimSpace(plain(q.Text)), "question:"); ok {
		q.Question = true
		b.fault("tag/question", q.At, strings.TrimSpace(rest))
	}
	return q
}

func cutFold(s, prefix string) (string, bool) {
	if len(s) < len(prefix) || !strings.EqualFold(s[:len(prefix)], prefix) {
		return s, false
	}
	return s[len(prefix):], true
}

// flatten takes the running text out of all blocks of a quote, with a break between them.
func (b *builder) flatten(n ast.Node, out *[]Inline) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c.(type) {
		case *ast.Paragraph, *ast.TextBlock, *ast.Heading:
			if len(*out) > 0 {
				last := (*out)[len(*out)-1].Span().End
				*out = append(*out, &Break{b.file.At(last, last)})
			}
			*out = append(*out, b.inlines(c, false)...)
		case *ast.CodeBlock, *ast.FencedCodeBlock:
			b.hidden(b.lines(c), "a code block")
		case *ast.HTMLBlock:
			b.hidden(b.lines(c), "HTML")
		case *extast.Table:
			b.table(c.(*extast.Table))
		default:
			b.flatten(c, out)
		}
	}
}

// signal finds the signal word that a quote begins with and takes it off the text.
func (q *Quote) signal() {
	if len(q.Text) == 0 {
		return
	}
	first, ok := q.Text[0].(*Text)
	if !ok || first.Code {
		return
	}
	for _, w := range []string{"DANGER", "WARNING", "CAUTION", "NOTICE"} {
		lead := len(first.Text) - len(strings.TrimLeft(first.Text, " "))
		rest, ok := strings.CutPrefix(first.Text[lead:], w)
		if !ok || rest != "" && !strings.ContainsAny(rest[:1], " :.—-\u2013") {
			continue
		}
		q.Signal = w
		q.SignalAt = source.Span{File: first.At.File, Start: first.At.Start + lead, End: first.At.Start + lead + len(w)}
		first.Text = rest
		break
	}
	if q.Signal == "" {
		return
	}
	// A colon may stand behind the word, inside the bold or out of it.
	for len(q.Text) > 0 {
		t, ok := q.Text[0].(*Text)
		if !ok {
			return
		}
		cut := strings.TrimLeft(t.Text, " :.—–-")
		t.At = t.At.File.At(t.At.End-len(cut), t.At.End)
		if t.Text = cut; cut != "" {
			return
		}
		q.Text = q.Text[1:]
		for len(q.Text) > 0 {
			if _, ok := q.Text[0].(*Break); !ok {
				break
			}
			q.Text = q.Text[1:]
		}
	}
}
