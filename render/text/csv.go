package text

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"refitcard/render/document"
)

// PickCSV writes a pick list as one table for a spreadsheet (RFC 4180, UTF-8): a row an item, its section first.
// Cells that a spreadsheet would run as a formula are made harmless.
func PickCSV(w io.Writer, l *document.PickList) error {
	c := csv.NewWriter(w)
	rows := [][]string{{"section", "place", "draw", "count", "item", "detail", "number", "needs", "first step", "back on", "remark"}}
	for _, s := range []struct {
		name string
		rows []document.PickRow
	}{{"part", l.Parts}, {"part as required", l.AsRequired}, {"supply", l.Supplies}, {"tool", l.Tools}} {
		for _, r := range s.rows {
			rows = append(rows, []string{s.name, r.Bin, r.Draw, whole(r.Count), r.Item, r.Detail, r.Number, r.Needs, r.First, "", r.Remark})
		}
	}
	for _, b := range l.Bags {
		rows = append(rows, []string{"bag", b.Letter, "", whole(b.Count), b.Item, b.Detail, "", "", stepOf(b.Job, b.Off), stepOf(b.Job, b.On), ""})
	}
	for _, row := range rows {
		for i := range row {
			row[i] = Harmless(row[i])
		}
		if err := c.Write(row); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// Harmless puts an apostrophe before what a spreadsheet would take for a formula: cells that begin with = + - @,
// a tab or a line end, also behind spaces. A plain negative number would be one too; none is written here.
func Harmless(cell string) string {
	cell = strings.Map(func(r rune) rune {
		if r < 0x20 || r == 0x7f {
			return ' '
		}
		return r
	}, cell)
	bare := strings.TrimLeft(cell, " \u00a0")
	if bare != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(bare)[0]) {
		return "'" + cell
	}
	return cell
}
