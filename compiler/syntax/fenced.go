package syntax

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler/source"
)

// fenced turns a fenced block into a layout, a stack, or text that prints as typed.
func (b *builder) fenced(n *ast.FencedCodeBlock) {
	if n.Info == nil {
		b.typed(n, "a code block")
		return
	}
	info := b.trimmed(n.Info.Segment.Start, n.Info.Segment.Stop)
	word, _, _ := strings.Cut(info.Text(), " ")
	rest := b.trimmed(info.Start+len(word), info.End)
	p := b.place(n)
	at := b.file.At(p.start, max(p.end, b.lines(n).End, info.End))
	switch strings.ToLower(word) {
	case "layout":
		b.put(b.layout(n, at, rest))
	case "stack":
		b.put(b.stack(n, at, rest))
	default:
		b.typed(n, "a code block")
	}
}

// readable gives the lines of a block without those of a hidden tag: it is reported, and the line means nothing else.
func (b *builder) readable(n ast.Node) []text.Segment {
	lines := segments(n)
	for i, l := range lines {
		if b.hidden(lines[i:i+1], "a code block") {
			lines[i] = text.NewSegment(l.Start, l.Start)
		}
	}
	return lines
}

// stack reads the name, the target and the lines of a pile.
func (b *builder) stack(n *ast.FencedCodeBlock, at, rest source.Span) *Stack {
	s := &Stack{At: at}
	words := rest.Text()
	cut := len(words)
	for i := range len(words) { // the target begins at the first figure that stands at the start of a word
		if isDigit(words[i]) && (i == 0 || isBlank(words[i-1])) {
			cut = i
			break
		}
	}
	for _, bound := range []string{"at least ", "at most "} {
		if start := cut - len(bound); start >= 0 && strings.EqualFold(words[start:cut], bound) {
			cut = start
		}
	}
	s.NameAt = b.trimmed(rest.Start, rest.Start+cut)
	s.Name = s.NameAt.Text()
	s.TarAt = b.trimmed(rest.Start+cut, rest.End)
	s.Target = s.TarAt.Text()
	for _, l := range b.readable(n) {
		if line := b.trimmed(l.Start, l.Stop); line.End > line.Start {
			s.Lines = append(s.Lines, StackLine{line, line.Text()})
		}
	}
	return s
}
