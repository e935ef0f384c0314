package reference

// columns gives the rows of a table of this folder as maps, column name to cell.
func columns(name string) []map[string]string {
	t := Open(name)
	var rows []map[string]string
	for _, line := range t.Rows {
		row := map[string]string{}
		for i, column := range t.Columns {
			row[column] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}
