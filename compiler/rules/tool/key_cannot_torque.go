package tool

import (
	"fmt"
	"slices"

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
		if !slices.ContainsFunc(j.Proc.Tools, isKey) {
			return nil
		}
		for _, a := range j.Doing(verb.DoTorque) {
			if valueOf(a) == nil || j.StepOf(a.Step).Misread {
				continue
			}
			var key *procedure.Choice
			for _, b := range turning.Bound(j, a) {
				c := &b.Tool.Choices[b.Choice]
				if !c.Kind.HexKey {
					key = nil
					break
				}
				key = c
			}
			if key == nil || !takesKey(j, a) {
				continue
			}
			all = append(all, diag.Finding{
				At: a.At, Step: a.Step.Num(),
				Message: fmt.Sprintf("this is torqued, and only the %s is named for it: no torque wrench takes that", key.Name),
				Do:      "list a bit socket of the same size, and name it here",
			})
		}
		return all
	},
}

// turning are the tools that turn a fastener.
var turning = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Turns() })

// isKey tells whether a tool is, or may be, a key that is turned by hand.
func isKey(t *procedure.Tool) bool {
	return slices.ContainsFunc(t.Choices, func(c procedure.Choice) bool { return c.Kind.HexKey })
}

// takesKey tells whether the act turns a fastener with a hexagon socket.
func takesKey(j *rules.Job, a *procedure.Act) bool {
	for _, o := range a.Objects {
		if a.Broken || o.Part == nil || !o.Part.Fastener() {
			continue
		}
		for _, x := range lookedUp.Of(j).of(o.Part).takes {
			if x.Size.System == hardware.HexKey {
				return true
			}
		}
	}
	return false
}
