package tag

import (
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// missing says whose value is missing.
func missing(f source.Fault) string {
	if f.Words[0] == "torque" {
		return " has no value: no torque of " + rules.Quote(rules.WordAt(f, 1)) + " stands here or in the parts list"
	}
	return " gives no time that can be read: how long?"
}

// table says where else a torque may stand.
func table(f source.Fault) string {
	if f.Words[0] == "torque" {
		return ", or in the Torque column"
	}
	return ", such as 20 min"
}
