// Package label holds the checks of the family "label": a number of a step can't be printed.
package label

import (
	"embed"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

//go:embed *.md
var texts embed.FS

// Family lists the checks with their texts.
func Family() rules.Family {
	return rules.Family{Name: "label", About: "steps that point to other steps", Texts: texts, Rules: []rules.Rule{
		unknown,
		repeated,
		unused,
	}}
}

// read keeps findings back while a tag with a misspelt verb may be the label, or the number, that is missed.
func read(j *rules.Job, verb string, all []diag.Finding) []diag.Finding {
	for _, f := range j.Named("tag/unknown-verb") {
		if rules.WordAt(f, 1) == verb {
			return nil
		}
	}
	for _, f := range j.Named("tag/unclosed") {
		if strings.HasPrefix(strings.ToLower(rules.WordAt(f, 0)), verb+" ") {
			return nil
		}
	}
	return all
}
