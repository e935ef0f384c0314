// Package torque holds the checks of the family "torque": tightening.
package torque

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "torque", About: "how tight, in which order, in which unit", Texts: texts, Rules: []rules.Rule{
		badUnit,
		differsFromTable,
		noPattern,
		layoutCount,
		passes,
		angleWithoutTorque,
		overProof,
		wrongUnitLikely,
		slack,
		none,
		conditionUnsupplied,
		lockingNut,
		castleNoRange,
		otherUnit,
	}}
}
