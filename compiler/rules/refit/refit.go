// Package refit holds the checks of the family "refit": the ledger does not close.
package refit

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "refit", About: "what comes off, is loosened or opened, and must be put right again", Texts: texts, Rules: []rules.Rule{
		leftOff,
		leftLoose,
		notTorqued,
		oldPartBack,
		alreadyOff,
		alreadyOn,
		usedAfterScrap,
		leftOpen,
		neverOpened,
		notFilled,
		branchesDiffer,
		leavesDiffer,
		markUnused,
	}}
}
