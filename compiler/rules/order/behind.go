package order

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var behind = rules.Rule{
	Name:     "order/behind",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/behind", func(f source.Fault, x *diag.Finding) {
			name, front := f.Words[0], f.Words[1]
			if rules.WordAt(f, 3) == "front first" {
				x.Message = fmt.Sprintf("the %s can't be reached: the %s in front of it went on first", name, front)
				x.Do = "put this act before the one that fits the " + front
				return
			}
			x.Message = fmt.Sprintf("the %s can't be reached: the %s in front of it is still on", name, front)
			x.Do = "remove the " + front + " first"
		})
	},
}
