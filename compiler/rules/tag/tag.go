// Package tag holds the checks of the family "tag": a tag can't be read as meant.
package tag

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "tag", About: "words in braces and the values in them", Texts: texts, Rules: []rules.Rule{
		unknownVerb,
		unclosed,
		empty,
		misplaced,
		hidden,
		badQuantity,
		decimalComma,
		reversedRange,
		question,
		missingQuantity,
		dualMismatch,
	}}
}
