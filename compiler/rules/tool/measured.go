package tool

import (
	"fmt"
	"math/big"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// beyondScale finds the measurements whose limits no tool of their sentence, step or stage reads.
func beyondScale(j *rules.Job) (all []diag.Finding) {
	for _, a := range j.Doing(verb.Measured) {
		if a.Broken || a.Limit == nil {
			continue
		}
		var worst *diag.Finding
		for _, b := range gauges.Bound(j, a) {
			f, bad := offScale(a, b)
			if !bad {
				worst = nil
				break
			}
			if worst == nil {
				worst = &f
			}
		}
		if worst != nil {
			all = append(all, *worst)
		}
	}
	return all
}

// gauges are the tools that measure.
var gauges = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Kind == hardware.Measures })

// reads tells whether a tool has a scale with two ends. Feeler blades are laid together: their largest is no end.
func reads(c procedure.Choice) bool {
	return c.Kind.Range != nil && c.Kind.Range.Form == quantity.Range && !strings.Contains(procedure.Fold(c.Name), "feeler")
}

// offScale holds the limits of a reading against the scale of a tool that reads the same kind of quantity. With all of them
// off the scale it is an error; with one of two, a warning.
func offScale(a *procedure.Act, b rules.BoundTool) (f diag.Finding, bad bool) {
	c := b.Tool.Choices[b.Choice]
	scale := c.Kind.Range
	if !reads(c) || a.Limit.Unit == nil || scale.Unit == nil || a.Limit.Unit.Kind != scale.Unit.Kind {
		return f, false
	}
	from, to, low, high := scale.Low.Rat, scale.High.Rat, a.Limit.Low.Rat, a.Limit.High.Rat
	if a.Limit.Unit != scale.Unit {
		from, to = scale.SI()
		low, high = a.Limit.SI()
	}
	limits, off := 0, 0
	for _, l := range []*big.Rat{low, high} {
		if l == nil {
			continue
		}
		limits++
		if quantity.Compare(l, from) < 0 || quantity.Compare(l, to) > 0 {
			off++
		}
	}
	if off == 0 {
		return f, false
	}
	f = diag.Finding{
		At: a.LimitAt, Step: a.Step.Num(), Thing: b.Tool.Whole, Severity: diag.Warning,
		Message: fmt.Sprintf("the reading is to be %s, and the %s reads %s", a.Limit.Running(), c.Name, scale.Running()),
		Why:     "A reading off the scale is a guess. Often the figure is right and its unit is not.",
		Do:      "name a tool that reads both limits, or correct the unit",
		Related: []source.Related{related(b.Tool)},
	}
	if limits == 1 {
		f.Do = "name a tool that reads the limit, or correct the unit"
	}
	if off == limits {
		f.Severity = diag.Error
	}
	return f, true
}
