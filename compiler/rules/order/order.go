// Package order holds the checks of the family "order": it can't be done, or not like that.
package order

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "order", About: "the order of the steps", Texts: texts, Rules: []rules.Rule{
		behind,
		held,
		torquedEarly,
		filledOpen,
		removedWet,
		awaitUnstarted,
		neverAwaited,
		alignUnmarked,
		measuredEarly,
		notBled,
	}}
}
