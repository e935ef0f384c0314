package safety

import (
	"fmt"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
)

var valueInNote = rules.Rule{
	Name:     "safety/value-in-note",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		known := func() []*quantity.Value { return knownValues.Of(j) }
		passages := j.Passages()
		for i := range passages {
			p := &passages[i]
			if p.Kind != rules.Noting || p.Head || !strings.ContainsAny(p.Text, "0123456789") {
				continue
			}
			for _, c := range prose.Cut(p.Text) {
				from, to, what := valueIn(p.Text[c.From:c.To], known)
				if to == 0 || tagged(p.Joined(), from+c.From) {
					continue
				}
				from, to = from+c.From, to+c.From
				all = append(all, diag.Finding{
					At: p.Place(from, to), Step: p.Within,
					Message: fmt.Sprintf("%q is %s in a note, and a note is read and not ticked", p.Text[from:to], what),
					Do:      "put it into the braces of its act, or into the parts list",
				})
			}
		}
		return all
	},
}

// Words that tell what a value in a note is for. Common practice, no source.
var (
	describing = set("reads read range scale used old earlier was were had formerly up") // words of a sentence that describes a thing, or how it was
	demanding  = set("must should shall keep")                                           // words of a sentence that demands
	tightening = set("torque tighten torqued tightened")                                 // words of a sentence on a torque that is to be met
	limiting   = set("limit limits")                                                     // words of a sentence on a limit
	forbidding = set("not never")                                                        // words before "exceed"
	bounding   = set("must should shall limit limits")                                   // words that make a range a limit
)

// tagged tells whether a byte of a note is the words of a tag: a tool with its range.
func tagged(t procedure.Joined, i int) bool {
	r := t.Runs[t.In(i)]
	return strings.HasPrefix(r.At.Text(), "{") || r.Code
}

// valueIn finds a torque that is to be met, or a limit, in a sentence of a note. A value that the table or a tag has as well
// is only explained here, and a range that describes a thing is no limit.
func valueIn(s string, known func() []*quantity.Value) (from, to int, what string) {
	if !strings.ContainsAny(s, "0123456789") || hasAny(s, describing) {
		return 0, 0, ""
	}
	orders := prose.Order(s) != "" || hasAny(s, demanding)
	for i := 0; i < len(s); i++ {
		if i > 0 && s[i-1] != ' ' && s[i-1] != '(' {
			continue
		}
		v, n, bad := quantity.LimitPrefix(s[i:])
		if n == 0 || bad != nil || v.Unit == nil || explained(v, known()) {
			continue
		}
		switch {
		case v.Unit.Kind == quantity.Torque && (orders || hasAny(s, tightening)):
			return i, i + n, "a torque"
		case v.Unit.Kind == quantity.Torque || v.Unit.Kind == quantity.Time:
		case v.Form == quantity.Exact && capped(s[:i]):
			return i, i + n, "a limit"
		case v.Form == quantity.Tolerance && (orders || hasAny(s, limiting)),
			(v.Form == quantity.AtLeast || v.Form == quantity.AtMost || v.Form == quantity.Range) && hasAny(s, bounding):
			return i, i + n, "a limit"
		}
		i += n - 1
	}
	return 0, 0, ""
}

// capped tells whether words order that a value is not to be passed: "do not exceed", "must be no more than".
func capped(before string) bool {
	w := wordList(before)
	n := len(w)
	return n > 1 && w[n-1] == "exceed" && forbidding[w[n-2]] ||
		n > 2 && w[n-1] == "than" && (w[n-2] == "more" || w[n-2] == "less") && hasAny(before, demanding)
}

// explained tells whether a value is that of an act or a row.
func explained(v quantity.Value, known []*quantity.Value) bool {
	for _, k := range known {
		if k.Unit != nil && v.Unit != nil && k.Unit.Kind == v.Unit.Kind && k.Middle() != nil && v.Middle() != nil && (quantity.Same(v, *k) || quantity.Cmp(v, *k) == 0) {
			return true
		}
	}
	return false
}

// knownValues are all values that stand where they are done: torques and limits of acts and of the table.
var knownValues = rules.NewFact(func(j *rules.Job) []*quantity.Value {
	var all []*quantity.Value
	add := func(v *quantity.Value) {
		if v != nil {
			all = append(all, v)
		}
	}
	for _, p := range j.Proc.Parts {
		add(p.Torque.Value)
		add(p.Hardware.Thickness)
	}
	for _, s := range j.Proc.Stacks {
		add(s.Target)
	}
	for _, a := range j.Acts() {
		add(a.Torque.Value)
		add(a.Limit)
		add(a.Amount)
		for i := range a.Passes.Values {
			add(&a.Passes.Values[i])
		}
	}
	return all
})
