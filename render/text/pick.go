// Package text shows sheets on a terminal and as tables for a spreadsheet.
package text

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/width"

	"refitcard/render/document"
)

// Pick writes a pick list as plain text in columns: a box to tick, bin, count, item, number, first step.
func Pick(w io.Writer, l *document.PickList) error {
	b := bufio.NewWriter(w)
	for _, j := range l.Jobs {
		fmt.Fprintf(b, "%s  revision %s  %s\n", j.Number, j.Revision, j.Title)
		for _, more := range []string{j.Machine, j.Variant, j.Times} {
			if more != "" {
				fmt.Fprintf(b, "  %s\n", more)
			}
		}
	}
	for _, s := range sections(l) {
		if len(s.rows) > 0 {
			fmt.Fprintf(b, "\n%s: %s\n", s.title, s.help)
			columns(b, s.head, s.rows, s.right)
		}
	}
	if l.ToolsInAll > 0 {
		fmt.Fprintf(b, "\n%d tools out, %d tools in: count them\n", l.ToolsInAll, l.ToolsInAll)
	}
	return b.Flush()
}

// section is one table of a pick list.
type section struct {
	title, help string
	head        []string
	right       []bool // columns whose figures stand flush right
	rows        [][]string
}

// sections turns a pick list into its tables, empty ones too. Text and CSV share them.
func sections(l *document.PickList) []section {
	parts := []string{"Out", "Bin", "Count", "Item", "Number", "First step"}
	right := []bool{false, false, true, false, false, true}
	return []section{
		{"Parts", "draw these", parts, right, partRows(l.Parts)},
		{"Parts as required", "draw only if the step finds the old one worn", parts, right, partRows(l.AsRequired)},
		{"Supplies", "rounded up to whole packs", []string{"Out", "Bin", "Draw", "Item", "The job needs", "First step"}, right, supplyRows(l.Supplies)},
		{"Tools", "count them out, count them in", []string{"Out", "In", "Crib", "Count", "Item", "Serial, calibrated to", "First step"}, []bool{false, false, false, true, false, false, true}, toolRows(l.Tools)},
		{"Hardware bags", "one bag and one label each", []string{"Full", "Empty", "Bag", "Count", "Item", "Off", "Back on"}, []bool{false, false, false, true, false, true, true}, bagRows(l.Bags)},
	}
}

const box = "[ ]"

func partRows(rows []document.PickRow) (out [][]string) {
	for _, r := range rows {
		out = append(out, []string{box, r.Bin, r.Draw, drawn(r), r.Number, r.First})
	}
	return out
}

func supplyRows(rows []document.PickRow) (out [][]string) {
	for _, r := range rows {
		out = append(out, []string{box, r.Bin, r.Draw, drawn(r), r.Needs, r.First})
	}
	return out
}

func toolRows(rows []document.PickRow) (out [][]string) {
	for _, r := range rows {
		serial := r.Serial
		if serial == "" && r.Signed {
			serial = "________"
		}
		out = append(out, []string{box, box, r.Bin, r.Draw, drawn(r), serial, r.First})
	}
	return out
}

func bagRows(bags []document.Bag) (out [][]string) {
	for _, b := range bags {
		out = append(out, []string{box, box, b.Letter, fmt.Sprint(b.Count), named(b.Item, b.Detail), stepOf(b.Job, b.Off), stepOf(b.Job, b.On)})
	}
	return out
}

func stepOf(job, step string) string {
	switch {
	case step == "":
		return "stays off"
	case job != "":
		return job + ": " + step
	}
	return step
}

// drawn names what is drawn, with what stands against it.
func drawn(r document.PickRow) string {
	if r.Remark != "" {
		return named(r.Item, r.Detail) + ": " + r.Remark
	}
	return named(r.Item, r.Detail)
}

func named(item, detail string) string {
	if detail == "" {
		return item
	}
	return item + ", " + detail
}

// columns writes a table with every column as wide as its widest cell.
func columns(w *bufio.Writer, head []string, rows [][]string, right []bool) {
	wide := make([]int, len(head))
	all := append([][]string{head}, rows...)
	for _, row := range all {
		for i, cell := range row {
			wide[i] = max(wide[i], cells(cell))
		}
	}
	for _, row := range all {
		var line strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", wide[i]-cells(cell))
			if right[i] {
				line.WriteString(pad + cell + "  ")
			} else {
				line.WriteString(cell + pad + "  ")
			}
		}
		w.WriteString("  " + strings.TrimRight(line.String(), " ") + "\n")
	}
}

// cells counts the columns that s takes on a terminal.
func cells(s string) int {
	n := 0
	for _, r := range s {
		switch width.LookupRune(r).Kind() {
		case width.EastAsianWide, width.EastAsianFullwidth:
			n += 2
		default:
			n++
		}
	}
	return n
}
