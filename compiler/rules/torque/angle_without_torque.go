package torque

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var angleWithoutTorque = rules.Rule{
	Name:     "torque/angle-without-torque",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		return j.Word("torque/angle-without-torque", func(f source.Fault, x *diag.Finding) {
			x.Message = fmt.Sprintf("%s %s turned by an angle without a first torque", j.The(f.Words[0]), j.By(f.Words[0], "is", "are"))
			x.Do = "torque to the first value, then turn by the angle"
		})
	},
}
