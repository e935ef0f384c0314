package tag

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var badQuantity = rules.Rule{
	Name:     "tag/bad-quantity",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return rules.Once(j.Word("tag/bad-quantity", func(f source.Fault, x *diag.Finding) {
			x.Message = rules.Quote(f.Words[0]) + " can't be read as a quantity"
			x.Do = "write " + rules.WordAt(f, 1)
			if reason := rules.WordAt(f, 2); reason != "" {
				x.Message = rules.Quote(f.Words[0]) + " " + reason
			}
		}), perSupply)
	},
}

// perSupply makes one finding of tags that take a supply in another measure than its list has: the slip may be in the list.
func perSupply(f diag.Finding) string {
	if strings.Contains(f.Message, " the list ") {
		return f.Thing
	}
	return fmt.Sprint(f.At.File.Path, f.At.Start)
}
