package reference

import (
	"sync"
)

// readFlammables reads the table once: many procedures ask.
var readFlammables = sync.OnceValue(func() []string {
	var names []string
	for _, r := range columns("flammables") {
		if r["status"] == "confirmed" {
			names = append(names, r["name"])
		}
	}
	return names
})

// Flammables gives the names of liquids that burn, in lower case: flash points below 93 °C (29 CFR 1910.106(a)(19)). The
// list is not to be changed.
func Flammables() []string { return readFlammables() }
