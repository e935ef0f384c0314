// Package part holds the checks of the family "part": names and counts of parts.
package part

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "part", About: "the parts list, and what the steps say of parts", Texts: texts, Rules: []rules.Rule{
		unknown,
		repeated,
		unused,
		badRow,
		unknownColumn,
		unknownUse,
		unknownPlace,
		useDiffers,
		noCount,
		singular,
		tooMany,
		bySample,
		singleUseKept,
		mixedLengths,
		specNotUnderstood,
		noWayRound,
	}}
}
