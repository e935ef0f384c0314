// Package library holds the checks of the family "library": procedures that do not fit together.
package library

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "library", About: "procedures that belong together", Texts: texts, Rules: []rules.Rule{
		numberRepeated,
		afterUnknown,
		startsUnmet,
		leavesUnmet,
	}}
}
