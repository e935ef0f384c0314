// Package energy holds the checks of the family "energy": energy is not isolated, proved, or given back as it should.
package energy

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "energy", About: "power and stored energy that can hurt people", Texts: texts, Rules: []rules.Rule{
		leftIsolated,
		restoredEarly,
		isolatedLate,
		notProved,
		raisedUnsupported,
		notRelieved,
		notCleared,
	}}
}
