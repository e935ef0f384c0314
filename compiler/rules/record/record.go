// Package record holds the checks of the family "record": what is measured, and whether the work is tried.
package record

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "record", About: "measurements and the test at the end", Texts: texts, Rules: []rules.Rule{
		noLimits,
		noTool,
		noOtherwise,
		noTest,
	}}
}
