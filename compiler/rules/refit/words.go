package refit

import (
	"strings"

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

// never says what is not done to some of a part: "2 of 12 cover bolts never go back", "none of the 12 cover bolts goes back".
func never(n, of int, name, one, many string) string {
	switch {
	case n == of && n > 2:
		return "none of the " + procedure.CountName(n, name) + " " + one
	case n == of && n == 2:
		return "neither of the " + procedure.CountName(n, name) + " " + one
	}
	return rules.Some(n, of, name) + " never " + rules.Is(n, one, many)
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
