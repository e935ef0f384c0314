package syntax

import (
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
)

// signals are the signal words of ANSI Z535.
func signals() []string { return []string{"DANGER", "WARNING", "CAUTION", "NOTICE"} }

// quote gives a safety message, an open question or a note.
func (b *builder) quote(n *ast.Blockquote) *Quote {
	q := &Quote{}
	p := b.place(n)
	q.At = b.file.At(p.start, p.end)
	q.Text = b.flatten(nil, n, &q.At.End)
	q.signal()
	if rest, ok := cutFold(plain(q.Text), "question:"); ok && q.Signal == "" {
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

// flatten takes the running text out of all blocks of a quote, with a break between them: nothing said there is lost. It
// moves end behind the last block.
func (b *builder) flatten(out []Inline, n ast.Node, end *int) []Inline {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c.Kind() {
		case ast.KindHeading, ast.KindFencedCodeBlock, ast.KindBlockquote, ast.KindListItem:
			*end = max(*end, b.place(c).end)
		}
		if c.Type() == ast.TypeBlock && c.Lines() != nil && c.Lines().Len() > 0 {
			*end = max(*end, b.lines(c).End)
		}
		switch c := c.(type) {
		case *ast.Paragraph, *ast.TextBlock:
			out = b.broken(out, b.inlines(c)...)
		case *ast.Heading:
			out = b.broken(out, b.hiding(c, "a heading")...)
		case *ast.CodeBlock:
			b.hidden(segments(c), "an indented block")
			out = b.brokenText(out, b.typedText(c))
		case *ast.FencedCodeBlock:
			b.hidden(segments(c), "a code block")
			out = b.brokenText(out, b.typedText(c))
		case *ast.HTMLBlock:
			b.hidden(segments(c), "HTML")
		case *tableNode:
			t := b.table(c)
			*end = max(*end, t.At.End)
			out = b.tableText(out, t)
		default:
			out = b.flatten(out, c, end)
		}
	}
	return out
}

// tableText gives the cells of a table inside a quote one by one.
func (b *builder) tableText(out []Inline, t *Table) []Inline {
	for _, row := range append([]Row{{Cells: t.Head}}, t.Rows...) {
		for _, cell := range row.Cells {
			if cell.Text != "" {
				out = b.broken(out, &Text{At: cell.At, Text: cell.Text, moved: cell.from != nil})
			}
		}
	}
	return out
}

// broken puts text behind a break.
func (b *builder) broken(out []Inline, text ...Inline) []Inline {
	if len(text) == 0 {
		return out
	}
	if len(out) > 0 {
		end := out[len(out)-1].Span().End
		out = append(out, &Break{b.file.At(end, end)})
	}
	return append(out, text...)
}

func (b *builder) brokenText(out []Inline, t *Text) []Inline {
	if t == nil {
		return out
	}
	return b.broken(out, t)
}

// signal finds the signal word that a quote begins with and takes it off the text.
func (q *Quote) signal() {
	if len(q.Text) == 0 {
		return
	}
	first, ok := q.Text[0].(*Text)
	if !ok || first.Code || first.moved {
		return
	}
	lead := len(first.Text) - len(strings.TrimLeft(first.Text, " "))
	for _, w := range signals() {
		rest, ok := strings.CutPrefix(first.Text[lead:], w)
		if r, _ := utf8.DecodeRuneInString(rest); !ok || rest != "" && r != ' ' && !isStop(r) {
			continue
		}
		start := first.At.Start + lead
		q.Signal, q.SignalAt = w, first.At.File.At(start, start+len(w))
		first.cut(lead + len(w))
		q.trim()
		return
	}
}

// isStop tells what may stand between a signal word and the text.
func isStop(r rune) bool { return strings.ContainsRune(":.!—–-", r) }

// trim takes off the colon that may stand behind the signal word, inside the bold or out of it.
func (q *Quote) trim() {
	for tight := true; len(q.Text) > 0; tight = false {
		switch t := q.Text[0].(type) {
		case *Break:
		case *Text:
			if t.moved || t.Code {
				return
			}
			t.cut(stopsBefore(t.Text, tight))
			if t.Text != "" {
				return
			}
		default:
			return
		}
		q.Text = q.Text[1:]
	}
}

// stopsBefore counts the bytes of blanks and stops that s begins with. A stop right before a word belongs to the word, as in
// "-5 °C", unless it touches the signal word.
func stopsBefore(s string, tight bool) int {
	at := 0
	for at < len(s) {
		r, size := utf8.DecodeRuneInString(s[at:])
		next, _ := utf8.DecodeRuneInString(s[at+size:])
		loose := at+size == len(s) || next == ' ' || isStop(next)
		if r != ' ' && (!isStop(r) || !tight && r != ':' && !loose) {
			break
		}
		tight = tight && r != ' '
		at += size
	}
	return at
}

// cut takes n bytes off the start of verbatim text.
func (n *Text) cut(count int) {
	n.Text = n.Text[count:]
	n.At = n.At.File.At(min(n.At.Start+count, n.At.End), n.At.End)
}
