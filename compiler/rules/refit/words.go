package refit

import (
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
