package diag

import (
	"slices"
	"sort"
	"strings"

	"refitcard/compiler/source"
)

// Mended is a finding with the fix that was picked for it.
type Mended struct {
	Finding Finding
	Fix     Fix
}

// Safe picks the fixes that may be made together without a person looking: of each finding that was not waived its first safe
// one. A fix is made whole or not at all: one that would change a file that may not be changed is left out, and of two that would
// change the same characters in two ways both are. Two findings may ask for the same change; it is made once.
func Safe(found []Finding, may func(*source.File) bool) []Mended {
	var all []Mended
	for _, f := range found {
		if f.Waived != "" {
			continue
		}
		for _, fix := range f.Fixes {
			if fix.Safe && !slices.ContainsFunc(fix.Edits, func(e Edit) bool { return !e.At.Known() || !may(e.At.File) }) {
				all = append(all, Mended{f, fix})
				break
			}
		}
	}
	bad := atOdds(all)
	var picked []Mended
	for i, m := range all {
		if !bad[i] {
			picked = append(picked, m)
		}
	}
	return picked
}

// atOdds finds the fixes that can't be made beside another: edits of the two touch the same characters, or the same point, unequally.
func atOdds(all []Mended) map[int]bool {
	type owned struct {
		Edit
		fix int
	}
	var edits []owned
	for i, m := range all {
		for _, e := range m.Fix.Edits {
			edits = append(edits, owned{e, i})
		}
	}
	sort.SliceStable(edits, func(i, j int) bool {
		if a, b := name(edits[i].At), name(edits[j].At); a != b {
			return a < b
		}
		return edits[i].At.Start < edits[j].At.Start
	})
	bad := map[int]bool{}
	for i, x := range edits {
		for _, y := range edits[i+1:] {
			if name(x.At) != name(y.At) || y.At.Start > x.At.End {
				break
			}
			if x.fix != y.fix && !(same(x.At, y.At) && x.Text == y.Text) {
				bad[x.fix], bad[y.fix] = true, true
			}
		}
	}
	return bad
}

// Apply gives a file as it lies on the disk with edits made, its byte order mark kept. An edit that is asked for twice is made
// once; one that overlaps an earlier one is left out; edits of other files are passed over. Files are told apart by their names.
func Apply(f *source.File, edits []Edit) []byte {
	edits = slices.DeleteFunc(slices.Clone(edits), func(e Edit) bool { return e.At.File == nil || e.At.File.Name != f.Name })
	sort.SliceStable(edits, func(i, j int) bool { return edits[i].At.Start < edits[j].At.Start })
	edits = slices.CompactFunc(edits, func(a, b Edit) bool { return same(a.At, b.At) && a.Text == b.Text })
	var b strings.Builder
	if f.Mark > 0 {
		b.WriteString("\xef\xbb\xbf")
	}
	at := 0
	for _, e := range edits {
		if e.At.Start < at {
			continue
		}
		b.Write(f.Text[at:e.At.Start])
		b.WriteString(e.Text)
		at = e.At.End
	}
	b.Write(f.Text[at:])
	return []byte(b.String())
}
