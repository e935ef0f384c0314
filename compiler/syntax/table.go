package syntax

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"refitcard/compiler/source"
)

// table turns a table into ours. Cells beyond the head would be dropped in silence: they are reported.
func (b *builder) table(n *extast.Table) *Table {
	t := &Table{}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		seen := len(b.tree.Faults)
		row := b.row(c)
		if _, ok := c.(*extast.TableHeader); ok {
			t.Head, t.At = row.Cells, row.At
			// The line under the head belongs to the table, also when no row follows.
			if under := b.file.LineSpan(b.file.Line(row.At.End) + 1); under.End > row.At.End {
				t.At.End = b.trimmed(row.At.End, under.End).End
			}
			continue
		}
		b.surplus(row, len(t.Head), seen)
		t.At.End = max(t.At.End, row.At.End)
		t.Rows = append(t.Rows, row)
	}
	return t
}

// row gives the cells of a row; its span is that of the line, without the marks of lists and quotes before it.
func (b *builder) row(n ast.Node) Row {
	start := b.clamp(n.Pos())
	line := b.file.LineSpan(b.file.Line(start))
	row := Row{At: b.trimmed(start, max(line.End, start))}
	for k := n.FirstChild(); k != nil; k = k.NextSibling() {
		if cell, ok := k.(*extast.TableCell); ok {
			b.hiding(cell, "a table")
			row.Cells = append(row.Cells, b.cell(cell, row.At))
		}
	}
	return row
}

// cell gives a cell; one that nobody wrote stands at the end of its row.
func (b *builder) cell(n *extast.TableCell, row source.Span) Cell {
	lines := n.Lines()
	if lines == nil || lines.Len() == 0 {
		return Cell{At: b.file.At(row.End, row.End)}
	}
	at := b.trimmed(lines.At(0).Start, lines.At(0).Stop)
	if end := at.End; end > at.Start && b.src[end-1] == '\\' && end < row.End && b.src[end] == '|' {
		at.End++ // the library takes an escaped bar at the end of a line for the row's last
	}
	for _, mark := range []string{"**", "__", "*", "_", "`"} {
		s := at.Text()
		if n := len(mark); len(s) > 2*n && strings.HasPrefix(s, mark) && strings.HasSuffix(s, mark) &&
			!strings.HasSuffix(s, `\`+mark) && !strings.Contains(s[n:len(s)-n], mark) {
			at = b.trimmed(at.Start+n, at.End-n)
		}
	}
	text, from := unescape(b.src, at.Start, at.End)
	return Cell{at, text, from}
}

// surplus reports the first cell beyond the head. A bar inside a tag makes one cell too many: then the torn tag, whose
// faults were recorded since seen, is not reported as well.
func (b *builder) surplus(row Row, columns, seen int) {
	text := row.At.Text()
	column, begin := 0, 0
	if strings.HasPrefix(text, "|") {
		begin = 1
	}
	for i := begin; i < len(text); i++ {
		if text[i] != '|' || i > 0 && text[i-1] == '\\' {
			continue
		}
		column++
		if column == columns {
			begin = i + 1
			break
		}
	}
	if column < columns || strings.Trim(text[begin:], " \t|") == "" {
		return
	}
	at := b.trimmed(row.At.Start+begin, row.At.End)
	what := "no more cells than the head of the table has columns"
	if strings.Contains(text, "{") {
		b.tree.Faults = b.tree.Faults[:seen]
		what = `no "|" inside a cell, or "\|" for one`
	}
	b.fault("part/bad-row", at, "row", strings.TrimRight(at.Text(), " |"), what)
}
