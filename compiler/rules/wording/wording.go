// Package wording holds the checks of the family "wording": words that hide something.
package wording

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "wording", About: "sentences that can be misread", Texts: texts, Rules: []rules.Rule{
		reverseOfRemoval,
		untaggedAct,
		untaggedQuantity,
		otherSide,
		vague,
		long,
		manyActs,
		notAnOrder,
		conditionLast,
		twoNames,
	}}
}
