package syntax

import (
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// kindTag is the Markdown library's name for our node.
var kindTag = ast.NewNodeKind("Tag")

// tagNode is a tag as the inline parser found it.
type tagNode struct {
	ast.BaseInline
	braces
}

// braces are `{…}`: the segments between the braces, one a line.
type braces struct {
	open     int // offset of the brace
	end      int // behind the closing brace, or behind the opening one when it never closes
	segments []text.Segment
	unclosed bool
}

// Kind is part of the library's node.
func (n *tagNode) Kind() ast.NodeKind { return kindTag }

// Dump is part of the library's node; it is never called here.
func (n *tagNode) Dump([]byte, int) {}

// tagParser reads a tag at an opening brace. Nothing inside it is Markdown.
type tagParser struct{}

// Trigger names the character that a tag begins with.
func (tagParser) Trigger() []byte { return []byte{'{'} }

// Parse reads up to the closing brace. Another opening brace or the end of the block means that it never closes; then only
// the brace is taken, so that every scan covers text that no other scan covers.
func (tagParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	startLine, startAt := block.Position()
	line, segment := block.PeekLine()
	if len(line) == 0 || line[0] != '{' {
		return nil
	}
	node := &tagNode{braces: braces{open: segment.Start}}
	for from := 1; line != nil; from = 0 {
		stop, found := scanTag(line, from)
		node.segments = append(node.segments, text.NewSegment(segment.Start+from, segment.Start+stop))
		if found == '}' {
			block.Advance(segment.Padding + stop + 1)
			node.end = segment.Start + stop + 1
			return node
		}
		if found == '{' {
			break
		}
		block.AdvanceLine()
		line, segment = block.PeekLine()
		// Padding stands for the rest of a tab and has no bytes in the file.
		line = line[min(segment.Padding, len(line)):]
		if len(line) == 0 {
			break
		}
	}
	block.SetPosition(startLine, startAt)
	block.Advance(1)
	node.unclosed, node.end = true, node.open+1
	return node
}

// scanTag looks for a brace that is not escaped; found is 0 when the line holds none.
func scanTag(line []byte, from int) (at int, found byte) {
	for i := from; i < len(line); i++ {
		switch line[i] {
		case '\\':
			if i+1 < len(line) && isEscaped(line[i+1]) {
				i++
			}
		case '{', '}':
			return i, line[i]
		}
	}
	return len(line), 0
}

// isEscaped tells which characters a backslash makes plain inside a tag.
func isEscaped(c byte) bool { return c == '{' || c == '}' || c == '|' }
