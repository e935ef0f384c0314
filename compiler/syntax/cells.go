package syntax

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// kindTable is the Markdown library's name for our node.
var kindTable = ast.NewNodeKind("Cells")

// tableNode is a table. Its cells are no nodes, as their text is taken as it stands; only one in which a tag may hide, or which
// may be beyond a limit, has a node of its own that the library reads.
type tableNode struct {
	ast.BaseBlock
	rows  []tableRow // the head first
	cells []tableCell
}

// tableRow is one line of a table: where its text begins, and behind its last cell. It begins behind the last cell of the row
// before it.
type tableRow struct{ start, behind int }

// tableCell is what stands between two bars, trimmed; unwritten where a row is shorter than the head.
type tableCell struct {
	start, stop int
	text        *ast.TextBlock // for the library to read; mostly nil
	unwritten   bool
}

// Kind is part of the library's node.
func (n *tableNode) Kind() ast.NodeKind { return kindTable }

// IsRaw is part of the library's node: it has no running text of its own.
func (n *tableNode) IsRaw() bool { return true }

// Dump is part of the library's node; it is never called here.
func (n *tableNode) Dump([]byte, int) {}

// row gives the cells of a row.
func (n *tableNode) row(i int) []tableCell {
	if i == 0 {
		return n.cells[:n.rows[0].behind]
	}
	return n.cells[n.rows[i-1].behind:n.rows[i].behind]
}

// tables makes tables as the library's own extension does (GFM, 4.10), and counts the cells that a table will have. The
// extension makes several nodes of each cell and reads each as running text.
type tables struct{}

// Transform is part of the library's parser.
func (tables) Transform(node *ast.Paragraph, reader text.Reader, pc parser.Context) {
	src := reader.Source()
	first := tableLine(node, src, 1)
	if first == 0 {
		return
	}
	w, lines := watchOf(pc), node.Lines()
	line := lines.At(first)
	if w.wide(line.Start, columnsAbout(line.Value(src)), lines.Len()-first) {
		return
	}
	for i := first; i < lines.Len(); i++ {
		under := lines.At(i)
		columns := columnsOf(under.Value(src))
		if columns == 0 {
			continue
		}
		if i > first && w.wide(under.Start, columns, lines.Len()-i) {
			return
		}
		table := newTable(lines.Sliced(i-1, lines.Len()), src, columns)
		if table == nil {
			return
		}
		table.SetPos(node.Pos())
		parent := node.Parent()
		parent.InsertAfter(parent, node, table)
		lines.SetSliced(0, i-1)
		if i == 1 {
			parent.RemoveChild(parent, node)
			return
		}
		above := lines.At(i - 2)
		above.Stop-- // its line end
		lines.Set(i-2, above)
		return
	}
}

// wide counts the cells of a table and tells whether it is beyond the limits.
func (w *watch) wide(at, columns, rows int) bool {
	w.cells += columns * rows
	return w.exceeds("columns in a table", at, columns, maxColumns) || w.exceeds("cells in tables", at, w.cells, maxCells)
}

// columnsAbout counts the columns that a line tells of if it stands under a head.
func columnsAbout(line []byte) int {
	return bytes.Count(bytes.Trim(line, " \t\r\n|"), []byte("|")) + 1
}

// columnsOf counts the columns that a line under a head tells of; 0 when it is no such line.
func columnsOf(line []byte) int {
	if w, _ := util.IndentWidth(line, 0); w > 3 || len(bytes.Trim(line, " \t\r\n|:-")) > 0 || len(bytes.Trim(line, "-")) == 0 {
		return 0
	}
	line = bytes.TrimSpace(line)
	line = bytes.TrimSuffix(bytes.TrimPrefix(line, []byte("|")), []byte("|"))
	columns := 0
	for column := range bytes.SplitSeq(line, []byte("|")) {
		column = bytes.TrimSpace(column)
		column = bytes.TrimSuffix(bytes.TrimPrefix(column, []byte(":")), []byte(":"))
		if len(column) == 0 || len(bytes.Trim(column, "-")) > 0 {
			return 0
		}
		columns++
	}
	return columns
}

// newTable makes a table of its lines: the head, the line under it, the rows. It gives nil when the head has too many cells.
func newTable(lines []text.Segment, src []byte, columns int) *tableNode {
	t := &tableNode{rows: make([]tableRow, 0, len(lines)-1), cells: make([]tableCell, 0, columns*(len(lines)-1))}
	t.add(lines[0], src, columns+1)
	if len(t.cells) > columns {
		return nil
	}
	t.fill(columns)
	for _, line := range lines[2:] {
		t.add(line, src, columns)
		t.fill(columns)
	}
	return t
}

// fill gives the last row as many cells as the table has columns, and ends it.
func (n *tableNode) fill(columns int) {
	for len(n.cells) < len(n.rows)*columns {
		n.cells = append(n.cells, tableCell{unwritten: true})
	}
	n.rows[len(n.rows)-1].behind = len(n.cells)
}

// add begins a row and reads its cells, as many as are asked for.
func (n *tableNode) add(line text.Segment, src []byte, most int) {
	n.rows = append(n.rows, tableRow{start: line.Start})
	at := skipBlanks(src, line.Start, line.Stop)
	stop := trimBlanks(src, at, line.Stop)
	begin := at
	if at < stop && src[at] == '|' {
		at++
	}
	if begin < stop && src[stop-1] == '|' {
		stop--
	}
	for ; at < stop && most > 0; most-- {
		end := at
		for end < stop && (src[end] != '|' || end > begin && src[end-1] == '\\') {
			end++
		}
		c := tableCell{start: skipBlanks(src, at, end)}
		c.stop = trimBlanks(src, c.start, end)
		if inside := src[c.start:c.stop]; len(inside) >= maxBrackets || bytes.IndexByte(inside, '{') >= 0 {
			c.text = ast.NewTextBlock()
			c.text.Lines().Append(text.NewSegment(c.start, c.stop))
			n.AppendChild(n, c.text)
		}
		n.cells = append(n.cells, c)
		at = end + 1
	}
}
