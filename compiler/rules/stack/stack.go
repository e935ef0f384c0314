// Package stack holds the checks of the family "stack": piles of parts against their targets.
package stack

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "stack", About: "piles of parts that must have a height", Texts: texts, Rules: []rules.Rule{
		outOfTarget,
		tolerance,
		noThickness,
		count,
	}}
}
