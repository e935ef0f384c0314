package refit

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// subject is what can't be done to: "all 4 cover bolts are".
func subject(f source.Fault) string {
	asked := rules.CountAt(f, 0)
	if asked <= 1 {
		return rules.Quote(f.Words[0]) + " is"
	}
	return rules.Quote(f.Words[1]) + " are"
}

// newBefore offers to put "new" before the name.
func newBefore(f source.Fault) []diag.Fix {
	text := f.At.Text()
	i := strings.Index(strings.ToLower(text), strings.ToLower(f.Words[0]))
	if i < 0 {
		return nil
	}
	at := source.Span{File: f.At.File, Start: f.At.Start + i, End: f.At.Start + i}
	return []diag.Fix{{Title: "write new before " + f.Words[0], Edits: []diag.Edit{{At: at, Text: "new "}}}}
}

// past gives the form of a verb for "was never …".
func past(v string) string {
	switch v {
	case "lock off":
		return "locked off"
	case "cap":
		return "capped"
	case "insert":
		return "put in"
	}
	return v + "ed"
}
