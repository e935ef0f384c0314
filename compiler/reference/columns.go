package reference

import (
	"encoding/csv"
	"fmt"
	"strings"
)

// columns reads a table of this folder: lines that start with "#" say where it comes from, the first other line names the
// columns. It gives one map a row, column name to cell. A table that can't be read is a mistake of the build: it panics.
func columns(file, text string) []map[string]string {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment, r.FieldsPerRecord = '#', -1
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 2 {
		panic(fmt.Sprintf("%s: %d lines, %v", file, len(lines), err))
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, name := range lines[0] {
			if i < len(line) {
				row[name] = strings.TrimSpace(line[i])
			}
		}
		rows = append(rows, row)
	}
	return rows
}
