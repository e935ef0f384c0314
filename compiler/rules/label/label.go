// Package label holds the checks of the family "label": a number of a step can't be printed.
package label

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "label", Texts: texts, Rules: []rules.Rule{
		unknown,
		repeated,
		unused,
	}}
}
