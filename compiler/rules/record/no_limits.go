package record

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
)

var noLimits = rules.Rule{
	Name:     "record/no-limits",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		eachMeasure(j, func(a *procedure.Act) {
			switch {
			case a.Limit == nil:
				if figured(a.Name) || holds(a.Words, "against", "as", "than", "same", "table", "drawing", "plate", "maker") {
					return // it says what to hold the reading against
				}
				all = append(all, diag.Finding{
					At: nameAt(a), Step: a.Step.Num(),
					Message: fmt.Sprintf("%q is measured, and nothing says which readings are good", a.Name),
					Do:      "give its limits, such as 12..18 mm, 12 ±1 mm or at least 12 mm; or write {record …}",
				})
			case a.Limit.Form == quantity.Exact:
				all = append(all, diag.Finding{
					At: a.LimitAt, Step: a.Step.Num(),
					Message: fmt.Sprintf("%q is one bare value, and no reading meets it to the last figure", a.Limit.Running()),
					Do:      "give a range or a tolerance, or write at least or at most before it",
				})
			}
		})
		return all
	},
}

// figured tells whether a range without a unit stands among the words: a count.
func figured(name string) bool {
	return strings.Contains(name, "..") || strings.ContainsAny(name, "±–")
}
