package tool

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var doesNotFit = rules.Rule{
	Name:     "tool/does-not-fit",
	Severity: diag.Error,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, m := range mismatches.Of(j) {
			f := diag.Finding{
				At: m.tool.act.At, Step: m.act.Step.Num(), Thing: m.part.Name.Value,
				Message: fmt.Sprintf("the %s does not fit %s, %s: that takes %s",
					m.tool.choice.Name, rules.Quote(m.part.Name.Value), m.part.Spec.Value, m.reason),
				Do: "name the tool that fits, or write the size that differs from the standard into the Spec",
			}
			f.Related = append(f.Related, source.Related{At: m.part.Spec.At, Words: "the Spec"})
			all = append(all, f)
		}
		return rules.Once(all, rules.Said)
	},
}
