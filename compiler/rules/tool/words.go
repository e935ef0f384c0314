package tool

import (
	"slices"
	"strings"

	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

func related(t *procedure.Tool) source.Related { return source.Related{At: t.At, Words: "listed"} }

// notWaived tells whether the faults of a name stand at more places than waivers let pass.
func notWaived(j *rules.Job, name string) bool {
	places := map[source.Span]bool{} // a fault stands there once a variant
	for _, f := range j.Named(name) {
		places[f.At] = true
	}
	waived := 0
	for _, w := range j.Proc.Waivers {
		if w.Rule.Value == name {
			waived++
		}
	}
	return len(places) > waived
}

// missed tells whether an act that another finding asks for would use the tool: an act that was left out takes its tool with
// it, and to say so twice would be two findings of one slip.
func missed(j *rules.Job, t *procedure.Tool) bool {
	stands := func(names ...string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return notWaived(j, n) })
	}
	return slices.ContainsFunc(t.Choices, func(c procedure.Choice) bool {
		switch c.Kind.Kind {
		case hardware.TurnsHexagon, hardware.TurnsRecess, hardware.AppliesTorque:
			return stands("refit/not-torqued", "refit/left-loose", "refit/left-off", "refit/old-part-back", "torque/differs-from-table", "part/use-differs",
				"refit/already-on", "refit/already-off", "refit/left-open", "order/held", "order/behind", "torque/angle-without-torque")
		case hardware.Lifts:
			return stands("energy/raised-unsupported", "refit/left-off", "refit/never-opened")
		case hardware.Catches:
			return stands("refit/not-filled", "order/filled-open", "refit/already-on", "refit/leaves-differ", "order/behind")
		}
		if c.Kind.Kind == hardware.OtherTool && stands("refit/already-on", "order/behind", "order/held") {
			return true
		}
		name := strings.ToLower(c.Name)
		switch {
		case strings.Contains(name, "angle"):
			return stands("torque/differs-from-table", "refit/not-torqued")
		case c.Kind.Kind == hardware.Measures, strings.Contains(name, "tester"):
			return stands("energy/not-proved")
		}
		return false
	})
}

// plain tells whether a step names the tool outside a tag.
func plain(j *rules.Job, t *procedure.Tool) bool {
	steps := j.Steps()
	for i := range steps {
		for _, r := range steps[i].Runs {
			for _, c := range t.Choices {
				if r.Act == nil && strings.Contains(strings.ToLower(r.Text), strings.ToLower(c.Name)) {
					return true
				}
			}
		}
	}
	return false
}
