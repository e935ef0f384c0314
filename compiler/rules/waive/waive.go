// Package waive holds the checks of the family "waive": a waiver that lets nothing pass.
package waive

import (
	"embed"

	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "waive", About: "findings that are let pass with a reason", Texts: texts, Rules: []rules.Rule{
		noReason,
		noFinding,
		notWaivable,
	}}
}
