package tool

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var tooSmall = rules.Rule{
	Name:     "tool/too-small",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, a := range j.Doing(verb.Drain) {
			if j.StepOf(a.Step).Misread {
				continue
			}
			out, fluid := drained(j, a)
			if out == nil || out.Unit == nil || out.Unit.Kind != quantity.Volume || a.Amount == nil && j.Muted(fluid) {
				continue
			}
			pans := catching.Bound(j, a)
			if len(pans) != 1 {
				continue
			}
			pan := pans[0].Tool.Choices[pans[0].Choice]
			if quantity.Cmp(*pan.Kind.Volume, *out) >= 0 || a.Amount == nil && plainFill(j, fluid) {
				continue
			}
			f := diag.Finding{
				At: a.At, Step: a.Step.Num(), Thing: fluid,
				Message: fmt.Sprintf("%s of %s come out, and the %s holds %s", out.Running(), rules.Quote(fluid), pan.Name, pan.Kind.Volume.Running()),
				Do:      "list one that holds " + out.Running() + " or more",
			}
			f.Related = append(f.Related, source.Related{At: pans[0].Tool.At, Words: "listed"})
			all = append(all, f)
		}
		return all
	},
}

// catching are the tools of a known volume that catch a fluid.
var catching = rules.NewToolKind(func(c *procedure.Choice) bool { return c.Kind.Kind == hardware.Catches && c.Kind.Volume != nil })

// plainFill tells whether a step names the fluid outside a tag: it may be filled there, which nothing counts.
func plainFill(j *rules.Job, fluid string) bool {
	steps, name := j.Steps(), procedure.Fold(fluid)
	for i := range steps {
		for _, r := range steps[i].Runs {
			if r.Act == nil && strings.Contains(procedure.Fold(r.Text), name) {
				return true
			}
		}
	}
	return false
}

// drained says how much comes out: what the tag says, else what the supply drains, else what goes in, when it goes in once.
func drained(j *rules.Job, a *procedure.Act) (*quantity.Value, string) {
	if len(a.Objects) != 1 || a.Objects[0].Supply == nil {
		return nil, ""
	}
	s := a.Objects[0].Supply
	switch {
	case a.Amount != nil:
		return a.Amount, s.Name.Value
	case s.Drains != nil:
		return s.Drains, s.Name.Value
	case j.Proc.Each.Count > 1:
		return nil, ""
	}
	fills := 0
	for _, b := range j.StepActs() {
		for _, list := range [2][]procedure.Object{b.Objects, b.Mentions} {
			if b.Verb.Effect != verb.Drain && slices.ContainsFunc(list, func(o procedure.Object) bool { return o.Supply == s }) {
				fills++
			}
		}
	}
	if fills != 1 {
		return nil, "" // the list has the total of several fills
	}
	return s.Quantity, s.Name.Value
}
