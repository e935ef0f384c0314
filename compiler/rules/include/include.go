// Package include holds the checks of the family "include": another file of the library can't be taken in.
package include

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "include", About: "files that are taken into a procedure", Texts: texts, Rules: []rules.Rule{
		missing,
		cycle,
		outside,
		differs,
	}}
}
