// Package figure holds the checks of the family "figure": a picture can't be printed.
package figure

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "figure", About: "pictures", Texts: texts, Rules: []rules.Rule{
		missing,
		outside,
		notAnImage,
		noCaption,
	}}
}
