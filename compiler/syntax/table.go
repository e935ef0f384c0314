package syntax

import (
	"bytes"
	"strings"

	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"

	"refitcard/compiler/source"
)

// table turns a table into ours. Cells beyond the head would be dropped in silence: they are reported.
func (b *builder) table(n *extast.Table) *Table {
	t := &Table{}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		var cells []Cell
		for k := c.FirstChild(); k != nil; k = k.NextSibling() {
			cell, ok := k.(*extast.TableCell)
			if !ok {
				continue
			}
			b.hide(b.inlines(cell, false), "a table")
			cells = append(cells, b.cell(cell))
		}
		if _, ok := c.(*extast.TableHeader); ok {
			t.Head = cells
			t.At = b.rowSpan(cells)
			continue
		}
		row := Row{At: b.rowSpan(cells), Cells: cells}
		for i := range row.Cells { // cells that nobody wrote stand at the end of the row
			if !row.Cells[i].At.Known() {
				row.Cells[i].At = b.file.At(row.At.End, row.At.End)
			}
		}
		if row.At.Known() {
			b.surplus(row, len(t.Head))
			t.At = t.At.To(row.At)
			t.Rows = append(t.Rows, row)
		}
	}
	for i := range t.Head {
		if !t.Head[i].At.Known() {
			t.Head[i].At = b.file.At(t.At.Start, t.At.Start)
		}
	}
	return t
}

func (b *builder) cell(n *extast.TableCell) Cell {
	segments := n.Lines()
	if segments == nil || segments.Len() == 0 {
		return Cell{}
	}
	s := segments.At(0)
	at := b.trimmed(s.Start, s.Stop)
	raw := []byte(at.Text())
	if bytes.ContainsAny(raw, `\&`) {
		raw = util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(raw)))
	}
	return Cell{at, strings.Trim(string(raw), " \t*`")}
}

// rowSpan is the whole line that the cells stand on, trimmed.
func (b *builder) rowSpan(cells []Cell) source.Span {
	for _, c := range cells {
		if c.At.Known() {
			line := b.file.LineSpan(b.file.Line(c.At.Start))
			return b.trimmed(line.Start, line.End)
		}
	}
	return source.Span{}
}

// surplus reports the first cell beyond the head.
func (b *builder) surplus(row Row, columns int) {
	text := row.At.Text()
	starts := []int{}
	begin := 0
	if strings.HasPrefix(text, "|") {
		begin = 1
	}
	starts = append(starts, begin)
	for i := begin; i < len(text); i++ {
		switch text[i] {
		case '\\':
			i++
		case '|':
			starts = append(starts, i+1)
		}
	}
	if last := starts[len(starts)-1]; strings.TrimSpace(text[last:]) == "" {
		starts = starts[:len(starts)-1]
	}
	if len(starts) <= columns || columns == 0 {
		return
	}
	at := b.trimmed(row.At.Start+starts[columns], row.At.End)
	what := "as many cells as the table's head has columns"
	if strings.Contains(text, "{") {
		what = `no "|" inside a cell, or "\|" for one`
	}
	b.fault("part/bad-row", at, "row", strings.TrimRight(at.Text(), " |"), what)
}
