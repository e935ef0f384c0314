package syntax

import (
	"strings"

	"refitcard/compiler/source"
)

// table turns a table into ours. Cells beyond the head would be dropped in silence: they are reported.
func (b *builder) table(n *tableNode) *Table {
	t := &Table{Rows: make([]Row, 0, len(n.rows)-1)}
	cells := make([]Cell, 0, len(n.cells))
	for i := range n.rows {
		seen, first := len(b.tree.Faults), len(cells)
		row := Row{At: b.rowSpan(n.rows[i].start)}
		for _, c := range n.row(i) {
			if c.text != nil {
				b.hiding(c.text, "a table")
			}
			cells = append(cells, b.cell(c, row.At))
		}
		row.Cells = cells[first:len(cells):len(cells)]
		if i == 0 {
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

// rowSpan is where a row stands: its line, without the marks of lists and quotes before it.
func (b *builder) rowSpan(start int) source.Span {
	start = b.clamp(start)
	line := b.file.LineSpan(b.file.Line(start))
	return b.trimmed(start, max(line.End, start))
}

// cell gives a cell; one that nobody wrote stands at the end of its row.
func (b *builder) cell(c tableCell, row source.Span) Cell {
	if c.unwritten {
		return Cell{At: b.file.At(row.End, row.End)}
	}
	at := b.trimmed(c.start, c.stop)
	if end := at.End; end > at.Start && b.src[end-1] == '\\' && end < row.End && b.src[end] == '|' {
		at.End++ // the library takes an escaped bar at the end of a line for the row's last
	}
	if at.Start < at.End && strings.IndexByte("*_`", b.src[at.Start]) >= 0 {
		at = b.bare(at)
	}
	text, from := b.unescape(at)
	return Cell{at, text, from}
}

// bare takes off marks of emphasis and of code that stand around it all.
func (b *builder) bare(at source.Span) source.Span {
	for _, mark := range []string{"**", "__", "*", "_", "`"} {
		s := at.Text()
		if n := len(mark); len(s) > 2*n && strings.HasPrefix(s, mark) && strings.HasSuffix(s, mark) &&
			!strings.HasSuffix(s, `\`+mark) && !strings.Contains(s[n:len(s)-n], mark) {
			at = b.trimmed(at.Start+n, at.End-n)
		}
	}
	return at
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
