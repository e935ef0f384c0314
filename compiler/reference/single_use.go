package reference

import (
	"slices"
	"sync"
)

// SingleUse is one kind of part that is changed, or looked at, whenever it comes off. The sources stand at the head of
// single-use.csv and in each row.
type SingleUse struct {
	Name      string // as a parts list ends its name: "gasket", "split pin"
	Use       string // replace: a new one each time; inspect: goes back if it still locks; reuse: goes back
	Source    string
	Confirmed bool // read in its source; else from memory: it may silence a finding, never raise one
}

// SingleUses gives the rows of the table in their order. The slice is the caller's own.
func SingleUses() []SingleUse { return slices.Clone(readSingleUses()) }

var readSingleUses = sync.OnceValue(func() []SingleUse {
	t := Open("single-use")
	var all []SingleUse
	for _, row := range t.Rows {
		cell := t.cells(row)
		all = append(all, SingleUse{Name: cell("name"), Use: cell("use"), Source: cell("source"), Confirmed: cell("status") == "confirmed"})
	}
	return all
})
