package order

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
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
				x.Message = fmt.Sprintf("%s can't be reached: %s in front of it went on first", j.The(name), j.The(front))
				x.Do = "put this act before the one that fits " + j.The(front)
				return
			}
			x.Message = fmt.Sprintf("%s can't be reached: %s in front of it %s still on", j.The(name), j.The(front), j.By(front, "is", "are"))
			x.Do = "remove " + j.The(front) + " first"
			if opens(j, front) {
				x.Do = "open " + j.The(front) + " first"
			}
		})
	},
}

// opens tells whether the job opens a part by name: then that is how it is got out of the way.
func opens(j *rules.Job, name string) bool {
	name = procedure.Fold(name)
	return slices.ContainsFunc(j.Acts(), func(a *procedure.Act) bool {
		return a.Verb.Name == "open" && slices.ContainsFunc(a.Objects, func(o procedure.Object) bool { return o.Name == name })
	})
}
