package diag

import (
	"slices"
	"sort"

	"refitcard/compiler/source"
)

// Sort puts findings in order by file, place and rule, and drops those that say the same at the same place.
func Sort(found []Finding) []Finding {
	sort.SliceStable(found, func(i, j int) bool { return less(found[i], found[j]) })
	return slices.CompactFunc(found, func(a, b Finding) bool {
		return a.Rule == b.Rule && same(a.At, b.At) && a.Message == b.Message && a.Waived == b.Waived
	})
}

// same tells whether two spans mark the same characters, also when their file was read twice: two procedures may include it.
func same(a, b source.Span) bool {
	return name(a) == name(b) && a.Known() == b.Known() && a.Start == b.Start && a.End == b.End
}

func less(a, b Finding) bool {
	if x, y := name(a.At), name(b.At); x != y {
		return x < y
	}
	if a.At.Start != b.At.Start {
		return a.At.Start < b.At.Start
	}
	if a.Rule != b.Rule {
		return a.Rule < b.Rule
	}
	return a.Message < b.Message
}

func name(at source.Span) string {
	if at.File == nil {
		return ""
	}
	return at.File.Name
}
