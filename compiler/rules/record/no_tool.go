package record

import (
	"fmt"
	"slices"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
)

var noTool = rules.Rule{
	Name:     "record/no-tool",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		if idleGauge(j) || len(j.Named("tool/not-listed")) > 0 || len(j.Named("tool/ambiguous")) > 0 {
			return nil // the list has one that no step uses, or a tag names one that could not be found: that finding says it
		}
		eachMeasure(j, func(a *procedure.Act) {
			if measured(j, a) {
				return
			}
			all = append(all, diag.Finding{
				At: nameAt(a), Step: a.Step.Num(),
				Message: fmt.Sprintf("%q is measured, and no tool that measures is named in its step or stage", a.Name),
				Do:      "list the gauge under Tools and name it here: with the {tool …}",
			})
		})
		return all
	},
}

// calibrated are the tools that measure, torque wrenches among them; measuring are those without: a torque wrench reads a torque
// and nothing else.
var (
	calibrated = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Calibrated() })
	measuring  = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Calibrated() && c.Kind.Kind != hardware.AppliesTorque })
)

// measured tells whether something measures for the act: a tool, or an instrument of the machine that the step speaks of.
// A count needs none, a time only a watch.
func measured(j *rules.Job, a *procedure.Act) bool {
	if v := a.Limit; figured(a.Name) || v != nil && (v.Unit == nil || v.Unit.Kind == quantity.Time || v.Unit.Name == "turn") {
		return true
	}
	gauges := measuring
	if v := a.Limit; v == nil || v.Unit == nil || v.Unit.Kind == quantity.Torque {
		gauges = calibrated
	}
	if len(gauges.Bound(j, a)) > 0 {
		return true
	}
	for _, t := range a.Step.Acts {
		if t.Broken {
			return true // what could not be read may be the gauge
		}
		if t.Tool != nil && t.Choice < len(t.Tool.Choices) && t.Tool.Choices[t.Choice].Kind.Kind == hardware.OtherTool {
			return true // whatever it is, the writer named it for this
		}
		for _, o := range t.Objects {
			if o.Tool != nil && t != a {
				return true // a meter that the step connects
			}
		}
	}
	return holds(stepText(a.Step), "gauge", "meter", "ammeter", "voltmeter", "panel", "display", "dial", "dipstick", "sight glass", "scale", "staff",
		"clock", "counter", "screen", "indicator", "thermometer", "instrument", "by eye", "by hand", "readout", "cabinet", "paces")
}

// idleGauge tells whether a tool that measures is listed, and no tag names it.
func idleGauge(j *rules.Job) bool {
	return slices.ContainsFunc(j.Proc.Tools, func(t *procedure.Tool) bool {
		return !j.UsesTool(t) && slices.ContainsFunc(t.Choices, func(c procedure.Choice) bool { return c.Kind.Kind == hardware.Measures })
	})
}
