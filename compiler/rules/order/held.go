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
				x.Message = fmt.Sprintf("%s %s in before %s, which %s", j.The(name), j.By(name, "goes", "go"), j.The(other), j.By(name, "it holds", "they hold"))
				x.Do = "install " + j.The(other) + " first"
			case "clamp first":
				x.Message = fmt.Sprintf("%s %s tightened before %s, which %s", j.The(name), j.By(name, "is", "are"), j.The(other), j.By(name, "it clamps", "they clamp"))
				x.Do = "install " + j.The(other) + " first"
			case "locked":
				x.Message = fmt.Sprintf("%s can't be turned: %s still %s it", j.The(name), j.The(other), j.By(other, "locks", "lock"))
				x.Do = "remove or slacken " + j.The(other) + " first"
			default:
				x.Message = fmt.Sprintf("%s %s off while %s still %s it", j.The(name), j.By(name, "comes", "come"), rules.Some(rules.CountAt(f, 0), rules.CountAt(f, 1), other), rules.Is(rules.CountAt(f, 0), "holds", "hold"))
				x.Do = "remove " + j.The(other) + " first"
				if clamps(j, other) {
					x.Do = "slacken " + j.The(other) + " first"
				}
			}
		})
	},
}

// clamps tells whether a part only clamps: slackening it is enough.
func clamps(j *rules.Job, name string) bool {
	for _, p := range j.Proc.Parts {
		for _, r := range p.Places {
			if procedure.Fold(p.Name.Value) == procedure.Fold(name) && r.Kind == procedure.Clamps {
				return true
			}
		}
	}
	return false
}
