package refit

import (
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
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

// standing is how a part stands, of the ledger's "1 on" for an only one: "on".
func standing(s string) string {
	if one, ok := strings.CutPrefix(s, "1 "); ok && !strings.Contains(s, ",") {
		return one
	}
	return s
}

// all names all of a part as a tag would: "12 cover bolts", "the drain plug".
func all(qty int, name string) string {
	if qty == 1 {
		return "the " + name
	}
	return procedure.CountName(qty, name)
}
