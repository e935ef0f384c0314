// Package safety holds the checks of the family "safety": safety messages.
package safety

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "safety", About: "warnings and other safety messages", Texts: texts, Rules: []rules.Rule{
		afterAction,
		noAvoidance,
		stepInside,
		weakWord,
		strongWord,
		noneForHazard,
		valueInNote,
		pointsElsewhere,
		repeated,
		heavyLift,
	}}
}
