package tool

import (
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
)

var noRange = rules.Rule{
	Name:     "tool/no-range",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, t := range j.Proc.Tools {
			for _, c := range t.Choices {
				if c.Kind.Range != nil || t.At.File != j.Proc.File || !(c.Kind.Kind == hardware.AppliesTorque || gauge(c)) || misspelt(j, t) {
					continue
				}
				all = append(all, diag.Finding{
					At: c.NameAt, Thing: t.Whole,
					Message: "the " + c.Name + " has no range",
					Do:      "write it after a comma: " + c.Name + rangeExample(c),
				})
			}
		}
		return all
	},
}

// gauge tells whether a tool is a gauge that reads a range: not one that is held against a thing.
func gauge(c procedure.Choice) bool {
	if c.Kind.Kind != hardware.Measures {
		return false
	}
	words := strings.Fields(procedure.Fold(c.Name))
	return slices.Contains(words, "gauge") && !slices.ContainsFunc([]string{"go", "thread", "radius", "wire", "pitch"}, func(w string) bool {
		return slices.Contains(words, w)
	})
}

// rangeExample shows how a range is written.
func rangeExample(c procedure.Choice) string {
	if c.Kind.Kind == hardware.AppliesTorque {
		return ", 5–50 N·m"
	}
	name := procedure.Fold(c.Name)
	for _, e := range []struct{ word, example string }{
		{"feeler", ", 0.05–1 mm"}, {"depth", ", 0–150 mm"}, {"dial", ", 0–10 mm"}, {"angle", ", 0–360°"}, {"temperature", ", 0–120 °C"}, {"level", ", 0–500 mm"},
	} {
		if strings.Contains(name, e.word) {
			return e.example
		}
	}
	return ", 0–10 bar"
}
