package syntax

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// markdown builds the Markdown parser: CommonMark, tables, and tags in braces. It holds no state of a parse, so one serves
// any number of goroutines; it is made once because making it costs more than a small file. Some of the library's parsers
// are wrapped: to keep the places that the library does not tell, and to count what would make it slow. Some of ours make what
// the library makes as well, in less time; a test puts the library's own in their place.
func markdown(items, rows parser.BlockParser, runs parser.InlineParser, tables parser.ParagraphTransformer) parser.Parser {
	return parser.NewParser(
		parser.WithBlockParsers(
			util.Prioritized(underlined{parser.NewSetextHeadingParser()}, 100),
			util.Prioritized(parser.NewThematicBreakParser(), 200),
			util.Prioritized(items, 250),
			util.Prioritized(rows, 250),
			util.Prioritized(parser.NewListParser(), 300),
			util.Prioritized(marked{parser.NewListItemParser()}, 400),
			util.Prioritized(parser.NewCodeBlockParser(), 500),
			util.Prioritized(marked{parser.NewATXHeadingParser()}, 600),
			util.Prioritized(marked{parser.NewFencedCodeBlockParser()}, 700),
			util.Prioritized(marked{parser.NewBlockquoteParser()}, 800),
			util.Prioritized(parser.NewHTMLBlockParser(), 900),
			util.Prioritized(parser.NewParagraphParser(), 1000),
		),
		parser.WithInlineParsers(
			util.Prioritized(runs, 40),
			util.Prioritized(tagParser{}, 50),
			util.Prioritized(parser.NewCodeSpanParser(), 100),
			util.Prioritized(links{parser.NewLinkParser()}, 200),
			util.Prioritized(parser.NewAutoLinkParser(), 300),
			util.Prioritized(parser.NewRawHTMLParser(), 400),
			util.Prioritized(emphasis{parser.NewEmphasisParser()}, 500),
		),
		parser.WithParagraphTransformers(
			util.Prioritized(definitions{parser.LinkReferenceParagraphTransformer}, 100),
			util.Prioritized(tables, 200),
		),
	)
}

// marked keeps where a block's mark begins, and where the fence ends that closes it. The library's own positions are wrong
// behind tabs.
type marked struct{ parser.BlockParser }

// Open is part of the library's parser.
func (p marked) Open(parent ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	_, at := reader.Position()
	node, state := p.BlockParser.Open(parent, reader, pc)
	if node != nil {
		start := skipBlanks(reader.Source(), at.Start, at.Stop)
		end := trimBlanks(reader.Source(), start, at.Stop)
		if node.Kind() == ast.KindListItem || node.Kind() == ast.KindBlockquote {
			end = markEnd(reader.Source(), start, at.Stop)
		}
		watchOf(pc).mark(node, place{start: start, end: end})
	}
	return node, state
}

// Continue is part of the library's parser.
func (p marked) Continue(node ast.Node, reader text.Reader, pc parser.Context) parser.State {
	_, at := reader.Position()
	state := p.BlockParser.Continue(node, reader, pc)
	if node.Kind() == ast.KindFencedCodeBlock && state&parser.Close != 0 {
		w := watchOf(pc) // it holds no other block, so that it is the last that was marked
		last := &w.marked[len(w.marked)-1]
		last.end = trimBlanks(reader.Source(), at.Start, at.Stop)
	}
	return state
}

// markEnd is the offset behind the mark of an entry of a list or of a quote.
func markEnd(src []byte, start, stop int) int {
	for start < stop && isDigit(src[start]) {
		start++
	}
	return min(start+1, stop)
}

func skipBlanks(src []byte, start, stop int) int {
	for start < stop && start < len(src) && isBlank(src[start]) {
		start++
	}
	return start
}

func trimBlanks(src []byte, start, stop int) int {
	stop = min(stop, len(src))
	for stop > start && isBlank(src[stop-1]) {
		stop--
	}
	return stop
}

// underlined keeps where the line of dashes ends that makes a heading of the words above it.
type underlined struct{ parser.BlockParser }

// Open is part of the library's parser. Words with a table under them are no heading: the library would put the words behind
// the table.
func (p underlined) Open(parent ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	_, at := reader.Position()
	above := pc.LastOpenedBlock().Node
	node, state := p.BlockParser.Open(parent, reader, pc)
	if node != nil {
		if watchOf(pc).tableAbove(above, reader.Source()) {
			return nil, parser.NoChildren
		}
		watchOf(pc).mark(node, place{start: -1, end: trimBlanks(reader.Source(), at.Start, at.Stop)})
	}
	return node, state
}

// links keeps the ends of images and counts opening brackets: each is tried to the end of the line or further.
type links struct{ parser.InlineParser }

// Parse is part of the library's parser.
func (p links) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, at := block.PeekLine()
	w := watchOf(pc)
	w.enter(parent)
	switch image := line[0] == '!' && len(line) > 1 && line[1] == '['; {
	case image && w.brackets >= maxBrackets:
		return nil // the bracket comes next
	case image, line[0] == '[':
		w.brackets++
		if w.exceeds("brackets in a paragraph", at.Start, w.brackets, maxBrackets) {
			return nil
		}
	}
	node := p.InlineParser.Parse(parent, block, pc)
	if image, ok := node.(*ast.Image); ok {
		_, behind := block.Position()
		if w.images == nil {
			w.images = map[*ast.Image]place{}
		}
		w.images[image] = place{start: image.Pos(), label: at.Start, end: behind.Start}
	}
	return node
}

// CloseBlock is part of the library's parser.
func (p links) CloseBlock(parent ast.Node, block text.Reader, pc parser.Context) {
	p.InlineParser.(parser.CloseBlocker).CloseBlock(parent, block, pc)
}

// emphasis counts runs of marks: each closing one is held against all opening ones before it.
type emphasis struct{ parser.InlineParser }

// Parse is part of the library's parser.
func (p emphasis) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	_, at := block.PeekLine()
	w := watchOf(pc)
	w.enter(parent)
	w.marks++
	if w.exceeds("emphasis marks in a paragraph", at.Start, w.marks, maxMarks) {
		return nil
	}
	return p.InlineParser.Parse(parent, block, pc)
}

// definitions counts lines that may define a link: the library moves all lines behind each.
type definitions struct{ parser.ParagraphTransformer }

// Transform is part of the library's parser.
func (p definitions) Transform(node *ast.Paragraph, reader text.Reader, pc parser.Context) {
	src, lines, n := reader.Source(), node.Lines(), 0
	for i := range lines.Len() {
		line := lines.At(i)
		at := line.Start
		for at < line.Stop && src[at] == ' ' {
			at++
		}
		if at < line.Stop && src[at] == '[' {
			n++
			if watchOf(pc).exceeds("brackets in a paragraph", line.Start, n, maxBrackets) {
				return
			}
		}
	}
	line := lines.At(0)
	if at := skipBlanks(src, line.Start, line.Stop); at == line.Stop || src[at] != '[' {
		return // definitions stand before all else
	}
	p.ParagraphTransformer.Transform(node, reader, pc)
}

// tableLine is the first line, from the given one, that may part the head of a table from its rows; 0 when there is none.
func tableLine(node ast.Node, src []byte, from int) int {
	lines := node.Lines()
	for i := from; i < lines.Len(); i++ {
		line := lines.At(i)
		value := line.Value(src)
		if len(value) == 0 || value[0] > '|' || value[0] > ':' && value[0] < '|' {
			continue // most lines begin with a letter
		}
		if len(bytes.Trim(value, " \t\r\n|:-")) == 0 && bytes.IndexByte(value, '-') >= 0 {
			return i
		}
	}
	return 0
}
