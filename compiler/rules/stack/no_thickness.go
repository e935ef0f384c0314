package stack

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var noThickness = rules.Rule{
	Name:     "stack/no-thickness",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		told := map[*procedure.Part]bool{}
		for _, s := range j.Proc.Stacks {
			if s.Target == nil {
				continue // nothing to add up to
			}
			for _, l := range s.Layers {
				for _, part := range rows(l.Part) {
					if thick(part) || told[part] || slipped(j, part) {
						continue
					}
					told[part] = true
					all = append(all, diag.Finding{
						At: l.At, Step: s.Step.Num(), Thing: part.Name.Value,
						Message: fmt.Sprintf("%q has no thickness in its Spec, so %q can't be added up", part.Name.Value, s.Name.Value),
						Do:      "write it into the Spec with its tolerance, such as \"3.0 ±0.05 mm thick\"",
						Related: []source.Related{{At: part.At, Words: "its row"}},
					})
				}
			}
		}
		return all
	},
}

// rows gives the rows of a part's name: one a variant, or the only one.
func rows(p *procedure.Part) []*procedure.Part {
	if len(p.Twins) > 0 {
		return p.Twins
	}
	return []*procedure.Part{p}
}

// slipped tells whether the row has a fault already: what is missing may be what could not be read.
func slipped(j *rules.Job, p *procedure.Part) bool {
	for _, f := range j.Faults {
		if p.At.Holds(f.At) {
			return true
		}
	}
	return false
}
