package torque

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var differsFromTable = rules.Rule{
	Name:     "torque/differs-from-table",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("torque/differs-from-table", func(f source.Fault, x *diag.Finding) {
			name, written, table := rules.Quote(f.Words[0]), f.Words[1], f.Words[2]
			switch f.Words[3] {
			case "below":
				x.Message = fmt.Sprintf("%s ends at %s, and the parts list says %s", name, written, table)
				x.Do = "add the torque to " + table + ", or correct the one that is wrong"
			case "no angle":
				x.Message = fmt.Sprintf("%s never gets its angle: the parts list says %s", name, table)
				_, angle, _ := strings.Cut(table, "+")
				x.Do = "add the angle: {torque … then " + rules.Or(strings.TrimSpace(angle), "90°") + "}"
			default:
				x.Message = fmt.Sprintf("%s here, and the parts list says %s for %s", written, table, name)
				x.Do = "look it up in the maker's data, then make the two the same"
			}
		})
	},
}
