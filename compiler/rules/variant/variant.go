// Package variant holds the checks of the family "variant": a variant that nobody declared.
package variant

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "variant", About: "several kinds of one machine in one procedure", Texts: texts, Rules: []rules.Rule{
		unknown,
	}}
}
