package syntax

import (
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// markdown builds the Markdown parser: CommonMark, tables, and tags in braces. It holds no state of a parse, so one serves
// any number of goroutines; it is made once because making it costs more than a small file.
func markdown() parser.Parser {
	p := parser.NewParser(
		parser.WithBlockParsers(parser.DefaultBlockParsers()...),
		parser.WithInlineParsers(append(parser.DefaultInlineParsers(), util.Prioritized(tagParser{}, 50))...),
		parser.WithParagraphTransformers(parser.DefaultParagraphTransformers()...),
	)
	// What the table extension adds, without the HTML renderer that it would bring along.
	p.AddOptions(
		parser.WithParagraphTransformers(util.Prioritized(extension.NewTableParagraphTransformer(), 200)),
		parser.WithASTTransformers(util.Prioritized(extension.NewTableASTTransformer(), 0)),
	)
	return p
}

// kindTag is the Markdown library's name for our node.
var kindTag = ast.NewNodeKind("Tag")

// tagNode is `{…}` as the inline parser found it: the segments between the braces, one a line.
type tagNode struct {
	ast.BaseInline
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
	node := &tagNode{open: segment.Start}
	from := 1
	for line != nil {
		stop, found := scanTag(line, from)
		node.segments = append(node.segments, text.NewSegment(segment.Start+from, segment.Start+stop))
		if found == '}' {
			block.Advance(stop + 1)
			node.end = segment.Start + stop + 1
			return node
		}
		if found == '{' {
			break
		}
		block.AdvanceLine()
		line, segment = block.PeekLine()
		from = 0
		// Padding stands for the rest of a tab and has no bytes in the file.
		if segment.Padding > 0 && len(line) >= segment.Padding {
			line = line[segment.Padding:]
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
			if i+1 < len(line) && (line[i+1] == '{' || line[i+1] == '}' || line[i+1] == '|' || line[i+1] == '\\') {
				i++
			}
		case '{', '}':
			return i, line[i]
		}
	}
	return len(line), 0
}
