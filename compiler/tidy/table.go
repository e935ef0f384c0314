package tidy

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/width"

	"refitcard/compiler/diag"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// widest is how many columns a cell may have that others are padded for: a longer one hangs over, or its one sentence would push
// all other rows off the screen.
const widest = 60

// columns is the order in which the language names the columns of the parts.
func columns() []string {
	return []string{"part", "qty", "spec", "number", "use", "place", "torque", "layout", "variant"}
}

// tables aligns every table, and puts the columns of the parts in order.
func (t *tidier) tables() {
	t.tree.EachBlock(func(s *syntax.Section, b syntax.Block) {
		if table, ok := b.(*syntax.Table); ok {
			t.table(table, isSection(s, "parts"))
		}
	})
}

func (t *tidier) table(table *syntax.Table, parts bool) {
	head := t.lineFrom(table.At.Start)
	under := t.file.LineSpan(t.file.Line(table.At.Start) + 1)
	under.Start += len(under.Text()) - len(strings.TrimLeft(under.Text(), " \t"))
	lines := []source.Span{head, trimEnd(under)}
	for _, r := range table.Rows {
		lines = append(lines, trimEnd(r.At))
	}
	rows := make([][]string, len(lines))
	for i, l := range lines {
		rows[i] = cells(l.Text())
		if len(rows[i]) > len(table.Head) || i < 2 && len(rows[i]) < len(table.Head) {
			return // a cell too many: its words would get lost or found
		}
		for len(rows[i]) < len(table.Head) {
			rows[i] = append(rows[i], "")
		}
	}
	order := make([]int, len(table.Head))
	for i := range order {
		order[i] = i
	}
	if parts {
		order = columnOrder(rows[0])
	}
	for i, text := range aligned(rows, order, parts) {
		lines[i] = t.file.At(lines[i].Start, lines[i].End)
		rows[i] = []string{text}
	}
	var list []diag.Edit
	for i, l := range lines {
		list = append(list, diag.Edit{At: l, Text: rows[i][0]})
	}
	t.add(list...)
}

// lineFrom is the rest of a line from an offset on, without blanks at its end.
func (t *tidier) lineFrom(start int) source.Span {
	return trimEnd(t.file.At(start, t.file.LineSpan(t.file.Line(start)).End))
}

func trimEnd(s source.Span) source.Span {
	s.End -= len(s.Text()) - len(strings.TrimRight(s.Text(), " \t"))
	return s
}

// cells cuts a line of a table at its bars; "\|" is no bar.
func cells(line string) []string {
	line = strings.TrimPrefix(line, "|")
	if strings.HasSuffix(line, "|") && !strings.HasSuffix(line, `\|`) {
		line = line[:len(line)-1]
	}
	var list []string
	start := 0
	for i := range len(line) {
		if line[i] == '|' && (i == 0 || line[i-1] != '\\') {
			list = append(list, strings.Trim(line[start:i], " \t"))
			start = i + 1
		}
	}
	return append(list, strings.Trim(line[start:], " \t"))
}

// columnOrder gives the columns in the order of the language; a table with a column that the language has not stays as it is.
func columnOrder(head []string) []int {
	order := make([]int, len(head))
	rank := make([]int, len(head))
	for i, h := range head {
		order[i] = i
		rank[i] = slices.Index(columns(), strings.ToLower(h))
	}
	sorted := slices.Clone(rank)
	slices.Sort(sorted)
	if len(slices.Compact(sorted)) == len(head) && !slices.Contains(rank, -1) {
		slices.SortFunc(order, func(a, b int) int { return rank[a] - rank[b] })
	}
	return order
}

// aligned prints the rows; the second one parts the head from the others.
func aligned(rows [][]string, order []int, parts bool) []string {
	wide := make([]int, len(rows[0]))
	right := make([]bool, len(rows[0]))
	for i, row := range rows {
		for c, cell := range row {
			if i == 1 {
				right[c] = strings.HasSuffix(cell, ":") && !strings.HasPrefix(cell, ":")
				if parts {
					right[c] = strings.EqualFold(rows[0][c], "qty")
				}
				continue
			}
			if parts && i > 1 && isOneOf(rows[0][c], "spec", "torque") {
				row[c] = specified(cell)
			}
			if n := across(row[c]); n <= widest {
				wide[c] = max(wide[c], n)
			}
		}
	}
	list := make([]string, len(rows))
	for i, row := range rows {
		var b strings.Builder
		for _, c := range order {
			if i == 1 {
				b.WriteString("|" + rule(row[c], max(wide[c], 1)+2, parts, right[c]))
				continue
			}
			pad := strings.Repeat(" ", max(wide[c]-across(row[c]), 0))
			switch {
			case wide[c] == 0:
				b.WriteString("|   ")
			case right[c]:
				b.WriteString("| " + pad + row[c] + " ")
			default:
				b.WriteString("| " + row[c] + pad + " ")
			}
		}
		list[i] = b.String() + "|"
	}
	return list
}

// rule is the cell under a heading, n columns wide: its colons tell the side to which the column is set.
func rule(typed string, n int, parts, right bool) string {
	left := strings.HasPrefix(typed, ":")
	end := strings.HasSuffix(typed, ":")
	if parts {
		left, end = !right, right
	}
	text := strings.Repeat("-", n)
	if left {
		text = ":" + text[1:]
	}
	if end {
		text = text[:n-1] + ":"
	}
	return text
}

func isOneOf(s string, words ...string) bool { return slices.Contains(words, strings.ToLower(s)) }

// across is how many columns of a screen a text takes: two for the wide letters of East Asia, none for a mark on a letter
// (Unicode Standard Annex 11; "ambiguous" counts as narrow).
func across(s string) int {
	n := 0
	for _, r := range s {
		switch k := width.LookupRune(r).Kind(); {
		case unicode.Is(unicode.Mn, r):
		case k == width.EastAsianWide || k == width.EastAsianFullwidth:
			n += 2
		default:
			n++
		}
	}
	return n
}
