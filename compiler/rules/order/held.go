package order

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var held = rules.Rule{
	Name:     "order/held",
	Severity: diag.Error,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("order/held", func(f source.Fault, x *diag.Finding) {
			name, other := f.Words[0], f.Words[1]
			switch f.Words[2] {
			case "fastener first":
				x.Message = fmt.Sprintf("the %s goes in before the %s that it holds", name, other)
				x.Do = "install the " + other + " first"
			case "locked":
				x.Message = fmt.Sprintf("the %s can't be turned: the %s still locks it", name, other)
				x.Do = "remove or slacken the " + other + " first"
			default:
				x.Message = fmt.Sprintf("the %s comes off while %s still %s it", name, rules.Some(rules.CountAt(f, 0), rules.CountAt(f, 1), other), rules.Is(rules.CountAt(f, 0), "holds", "hold"))
				x.Do = "remove " + rules.Is(rules.CountAt(f, 1), "the "+other, "the "+procedure.Plural(other)) + " first"
			}
		})
	},
}
