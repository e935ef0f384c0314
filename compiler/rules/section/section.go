// Package section holds the checks of the family "section": the declarations are not where they should be.
package section

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "section", About: "the lists of parts, tools and supplies as a whole", Texts: texts, Rules: []rules.Rule{
		repeated,
		silent,
	}}
}
