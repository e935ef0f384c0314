// Package tool holds the checks of the family "tool": tools.
package tool

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "tool", About: "the tools list, and whether the tools fit the work", Texts: texts, Rules: []rules.Rule{
		notListed,
		ambiguous,
		repeated,
		notUsed,
		noTorqueWrench,
		outOfRange,
		doesNotFit,
		noneFits,
		keyCannotTorque,
		adapterUnset,
		rating,
		tooSmall,
		noRange,
	}}
}
