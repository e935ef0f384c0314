// Package supply holds the checks of the family "supply": supplies.
package supply

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "supply", About: "the supplies list, and whether it is enough", Texts: texts, Rules: []rules.Rule{
		notListed,
		notUsed,
		noQuantity,
		shortRule,
	}}
}
