package part

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var mixedLengths = rules.Rule{
	Name:     "part/mixed-lengths",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for i, q := range j.Proc.Parts {
			for _, p := range j.Proc.Parts[:i] {
				held := mixable(j, p, q)
				if held == nil || placed(j, p) || placed(j, q) {
					continue
				}
				f := diag.Finding{
					At: q.Name.At, Thing: q.Name.Value,
					Message: fmt.Sprintf("%s and %s hold the %s with one thread, %s, in two lengths, %s and %s: nothing tells which goes where",
						rules.Quote(p.Name.Value), rules.Quote(q.Name.Value), held.Name.Value, q.Hardware.Thread.Name, p.Hardware.Thread.Length, q.Hardware.Thread.Length),
					Do: "draw a layout with a letter for each: a = " + p.Name.Value + ", b = " + q.Name.Value,
				}
				f.Related = append(f.Related, source.Related{At: p.Name.At, Words: "the other length"})
				all = append(all, f)
				break
			}
		}
		return all
	},
}

// mixable gives the part that two fasteners of one thread and two lengths hold in one variant, nil when they can't be mixed up.
func mixable(j *rules.Job, p, q *procedure.Part) *procedure.Part {
	a, b := p.Hardware.Thread, q.Hardware.Thread
	if a == nil || b == nil || !a.SameAs(*b) || a.LengthMM() == 0 || b.LengthMM() == 0 || math.Abs(a.LengthMM()-b.LengthMM()) < 0.01 {
		return nil
	}
	if muted(j, p) || muted(j, q) || !together(j, p, q) || procedure.Fold(p.Name.Value) == procedure.Fold(q.Name.Value) || p.Hardware.Head != q.Hardware.Head {
		return nil
	}
	for _, r := range p.Places {
		for _, s := range q.Places {
			if r.Kind == procedure.Holds && s.Kind == procedure.Holds && r.Part != nil && r.Part == s.Part {
				return r.Part
			}
		}
	}
	return nil
}

// together tells whether some variant has both.
func together(j *rules.Job, p, q *procedure.Part) bool {
	if len(p.Variants) == 0 || len(q.Variants) == 0 {
		return true
	}
	return slices.ContainsFunc(j.Proc.Variants, func(v procedure.Text) bool { return p.In(v.Value) && q.In(v.Value) })
}

// placed tells whether a layout draws the part, or the words where it goes in say where.
func placed(j *rules.Job, p *procedure.Part) bool {
	for _, l := range j.Proc.Layouts {
		if len(l.Parts) == 1 && l.Parts[0] == p || slices.ContainsFunc(l.Places, func(x procedure.LayoutPlace) bool { return x.Part == p }) {
			return true
		}
	}
	said := false
	j.EachAct(func(a *procedure.Act) {
		if a.Verb.Effect == verb.Install && slices.ContainsFunc(a.Objects, func(o procedure.Object) bool { return o.Part == p }) {
			said = said || saysWhere(a.Detail)
		}
	})
	return said
}

// saysWhere tells whether the words behind a tag's objects name a place: "at the top", "in the two dowelled holes".
func saysWhere(detail string) bool {
	words := strings.Fields(procedure.Fold(detail))
	return len(words) > 1 && slices.Contains([]string{"in", "at", "on", "into", "through", "beside", "along", "under", "over", "nearest"}, words[0])
}
