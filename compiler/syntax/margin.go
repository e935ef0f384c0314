package syntax

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// whole is what the block parsers have in common that read a block of the plainest shape to its end as soon as they see its
// first line: it stands at the margin, below an empty line or a block that is closed.
type whole struct{}

// CanInterruptParagraph is part of the library's parser: what stands right below words is the library's.
func (whole) CanInterruptParagraph() bool { return false }

// CanAcceptIndentedLine is part of the library's parser.
func (whole) CanAcceptIndentedLine() bool { return false }

// Continue is part of the library's parser.
func (whole) Continue(ast.Node, text.Reader, parser.Context) parser.State { return parser.Close }

// Close is part of the library's parser.
func (whole) Close(ast.Node, text.Reader, parser.Context) {}

// atMargin tells whether a block may be read whole here.
func atMargin(parent ast.Node, pc parser.Context) bool {
	return parent.Kind() == ast.KindDocument && len(pc.OpenedBlocks()) == 0 && pc.BlockIndent() == 0
}

// leaveAt leaves the reader in the line that begins at an offset further on: the library goes on behind it.
func leaveAt(reader text.Reader, start int) {
	for _, at := reader.Position(); at.Start < start; _, at = reader.Position() {
		reader.AdvanceLine()
	}
}

// lineEnd is the offset behind the line that stands at one.
func lineEnd(src []byte, at int) int {
	if n := bytes.IndexByte(src[at:], '\n'); n >= 0 {
		return at + n + 1
	}
	return len(src)
}

// rowsParser reads tables whose lines all begin with a bar. The library would read them as a paragraph first, line by line.
type rowsParser struct{ whole }

// Trigger names the character that such a table begins with.
func (rowsParser) Trigger() []byte { return []byte{'|'} }

// Open reads the whole table, and leaves the reader in its last line.
func (rowsParser) Open(parent ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	if !atMargin(parent, pc) {
		return nil, parser.NoChildren
	}
	src, w := reader.Source(), watchOf(pc)
	_, at := reader.Position()
	w.rows = w.rows[:0]
	for next := at.Start; next < len(src); {
		begin := next
		next = lineEnd(src, begin)
		if src[begin] != '|' {
			if trimBlanks(src, begin, next) > begin {
				return nil, parser.NoChildren // it would belong to the table
			}
			break
		}
		w.rows = append(w.rows, text.NewSegment(begin, next))
	}
	if len(w.rows) < 2 {
		return nil, parser.NoChildren
	}
	under := w.rows[1].Value(src)
	columns := columnsOf(under)
	if most, rows := columnsAbout(under), len(w.rows)-1; columns == 0 || most > maxColumns || w.cells+most*rows > maxCells {
		return nil, parser.NoChildren
	}
	table := newTable(w.rows, src, columns)
	if table == nil {
		return nil, parser.NoChildren
	}
	w.cells += columnsAbout(under) * (len(w.rows) - 1)
	leaveAt(reader, w.rows[len(w.rows)-1].Start)
	return table, parser.NoChildren
}
