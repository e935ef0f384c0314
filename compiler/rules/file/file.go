// Package file holds the checks of the family "file": the file and its front matter can't be read as meant.
package file

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "file", About: "the file as a whole and the lines at its top", Texts: texts, Rules: []rules.Rule{
		missingKey,
		unknownKey,
		repeatedKey,
		badValue,
		noSteps,
		notText,
		tooLarge,
		timeDiffers,
		revisionNotRaised,
		approvedByAuthor,
		unprintable,
		unreadable,
	}}
}
