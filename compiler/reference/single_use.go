// Package reference holds what is published: tables with their source at the head, embedded as they are, one loader for each.
// No figure stands anywhere else.
package reference

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strings"
	"sync"
)

//go:embed single_use.csv
var singleUseTable string

// SingleUse is one kind of part that is changed, or looked at, whenever it comes off. The sources stand at the head of
// single_use.csv and in each row.
type SingleUse struct {
	Name      string // as a parts list ends its name: "gasket", "split pin"
	Use       string // replace: a new one each time; inspect: goes back if it still locks; reuse: goes back
	Source    string
	Confirmed bool // read in its source; else from memory: it may silence a finding, never raise one
}

// SingleUses gives the rows of the table in their order. The slice is the caller's own.
func SingleUses() []SingleUse { return slices.Clone(readSingleUses()) }

var readSingleUses = sync.OnceValue(func() []SingleUse {
	var all []SingleUse
	for _, row := range rows(singleUseTable, 4) {
		all = append(all, SingleUse{Name: row[0], Use: row[1], Source: row[2], Confirmed: row[3] == "confirmed"})
	}
	return all
})

// rows reads an embedded table without its comments and its line of headings. It panics on a table that is not one: that is
// a broken build, which the tests of the table show first.
func rows(table string, columns int) [][]string {
	r := csv.NewReader(strings.NewReader(table))
	r.Comment, r.FieldsPerRecord = '#', columns
	all, err := r.ReadAll()
	if err != nil {
		panic("embedded table: " + err.Error())
	}
	return all[1:]
}
