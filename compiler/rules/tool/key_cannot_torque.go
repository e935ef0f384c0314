package tool

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var keyCannotTorque = rules.Rule{
	Name:     "tool/key-cannot-torque",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		j.EachStep(func(s *procedure.Step) {
			if misread(s) {
				return
			}
			for _, a := range s.Acts {
				if a.Verb.Effect != verb.DoTorque || a.Torque.Value == nil && valueOf(a) == nil {
					continue
				}
				bound := turning.Bound(j, a)
				var key *procedure.Choice
				for _, b := range bound {
					c := b.Tool.Choices[b.Choice]
					if !c.Kind.HexKey {
						key = nil
						break
					}
					key = &c
				}
				if key == nil || !takesKey(j, a) {
					continue
				}
				all = append(all, diag.Finding{
					At: a.At, Step: s.Num(),
					Message: fmt.Sprintf("this is torqued, and only the %s is named for it: no torque wrench takes that", key.Name),
					Do:      "list a bit socket of the same size, and name it here",
				})
			}
		})
		return all
	},
}

// turning are the tools that turn a fastener.
var turning = rules.NewToolKind(func(c procedure.Choice) bool { return c.Kind.Turns() })

// takesKey tells whether the act turns a fastener with a hexagon socket.
func takesKey(j *rules.Job, a *procedure.Act) bool {
	for _, t := range turnedBy([]*procedure.Act{a}, verb.DoTorque) {
		for _, x := range needOf(j, t.part).takes {
			if x.Size.System == hardware.HexKey {
				return true
			}
		}
	}
	return false
}
