package tool

import (
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var noTorqueWrench = rules.Rule{
	Name:     "tool/no-torque-wrench",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		if slices.ContainsFunc(j.Proc.Tools, appliesTorque) {
			return nil
		}
		var all []diag.Finding
		for _, a := range j.Doing(verb.DoTorque) {
			if len(all) == 0 && !a.Broken && (a.Torque.Value != nil || a.Torque.Angle == nil) {
				all = append(all, diag.Finding{
					At: a.At, Step: a.Step.Num(),
					Message: "this is torqued, and there is no torque wrench in the list of tools",
					Do:      "add one with the torque well inside its range: - torque wrench, 5–50 N·m",
				})
			}
		}
		if len(all) > 0 && broken(j) {
			return nil
		}
		return all
	},
}
