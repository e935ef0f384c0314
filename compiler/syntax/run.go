package syntax

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// kindRun is the Markdown library's name for our node.
var kindRun = ast.NewNodeKind("Run")

// runNode is running text in which nothing but tags means anything: most of a procedure. The library would ask at each of its
// characters, and make a node of each piece.
type runNode struct {
	ast.BaseInline
	lines []text.Segment
}

// Kind is part of the library's node.
func (n *runNode) Kind() ast.NodeKind { return kindRun }

// Dump is part of the library's node; it is never called here.
func (n *runNode) Dump([]byte, int) {}

// runParser takes the rest of a block in one go where it is a run. It is asked at the first line that does not begin with a
// mark, or at the first blank or brace, and once only: to ask at each blank would take time that grows with the square of them.
type runParser struct{}

// Trigger names the characters at which it is asked; the library takes the first letter of a line for a blank too.
func (runParser) Trigger() []byte { return []byte{' ', '{'} }

// Parse is part of the library's parser.
func (runParser) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	w := watchOf(pc)
	if w.asked == parent {
		return nil
	}
	w.asked = parent
	first := len(w.lines)
	for {
		line, at := block.PeekLine()
		if line == nil {
			break
		}
		if at.Padding != 0 || !isRun(line) {
			w.lines = w.lines[:first]
			return nil
		}
		w.lines = append(w.lines, at)
		block.AdvanceLine()
	}
	node := w.runs.one()
	node.lines = w.lines[first:len(w.lines):len(w.lines)]
	return node
}

// marks are the characters that may mean something in running text, braces left out.
var marks = [256]bool{'\\': true, '`': true, '*': true, '_': true, '[': true, ']': true, '<': true, '&': true}

func isRun(line []byte) bool {
	for _, c := range line {
		if marks[c] {
			return false
		}
	}
	return true
}

// run turns a run into ours.
func (b *builder) run(out []Inline, lines []text.Segment, bold bool) []Inline {
	for len(lines) > 0 {
		from, stop := lines[0].Start, lines[0].Stop
		for from < stop {
			open := bytes.IndexByte(b.src[from:stop], '{')
			if open < 0 {
				break
			}
			out = b.words(out, from, from+open, false, bold)
			var tag braces
			tag, lines = b.braces(lines, from+open)
			out = b.tagged(out, &tag, bold)
			from, stop = tag.end, lines[0].Stop
		}
		broken := stop > 0 && b.src[stop-1] == '\n'
		out = b.words(out, from, trimBlanks(b.src, from, stop), broken, bold)
		lines = lines[1:]
	}
	return out
}

// braces reads the tag that opens at an offset of the first of some lines, and gives the lines from the one that it ends in. Its
// segments hold until the next one is read.
func (b *builder) braces(lines []text.Segment, open int) (braces, []text.Segment) {
	b.inside = b.inside[:0]
	from := open + 1
	for k, line := range lines {
		if k > 0 {
			from = line.Start
		}
		n, found := scanTag(b.src[from:line.Stop], 0)
		b.inside = append(b.inside, text.NewSegment(from, from+n))
		if found == '}' {
			return braces{open: open, end: from + n + 1, segments: b.inside}, lines[k:]
		}
		if found == '{' {
			break
		}
	}
	return braces{open: open, end: open + 1, segments: b.inside, unclosed: true}, lines
}
