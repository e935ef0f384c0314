package reference

import (
	"slices"
	"strings"
	"testing"
)

// There is no formula to recompute these rows by: each must name a source and a use, and two hand-read ones are pinned.
func TestSingleUseRowsNameTheirSource(t *testing.T) {
	all := SingleUses()
	seen := map[string]bool{}
	for _, x := range all {
		if x.Source == "" || seen[strings.ToLower(x.Name)] {
			t.Errorf("%q has no source, or stands twice", x.Name)
		}
		seen[strings.ToLower(x.Name)] = true
		if !slices.Contains([]string{"replace", "inspect", "reuse"}, x.Use) {
			t.Errorf("%q: use %q is none of the three", x.Name, x.Use)
		}
		if x.Confirmed && strings.Contains(x.Source, "no source") {
			t.Errorf("%q has no source and is called confirmed", x.Name)
		}
	}
	for name, use := range map[string]string{"split pin": "replace", "lock washer": "inspect"} {
		if !slices.ContainsFunc(all, func(x SingleUse) bool { return x.Name == name && x.Use == use && x.Confirmed }) {
			t.Errorf("the row of %q does not say %s", name, use)
		}
	}
}

// A caller that changes its slice changes nobody else's.
func TestSingleUsesAreTheCallersOwn(t *testing.T) {
	SingleUses()[0].Name = "spoilt"
	if got := SingleUses()[0].Name; got != "gasket" {
		t.Errorf("the table begins with %q", got)
	}
}
