package part

import (
	"fmt"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

var specNotUnderstood = rules.Rule{
	Name:     "part/spec-not-understood",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, p := range j.Proc.Parts {
			if muted(j, p) {
				continue
			}
			for _, o := range p.Hardware.Odd {
				f := diag.Finding{
					At: withinSpec(p, o), Thing: p.Name.Value,
					Message: oddWords(o),
					Do:      rules.Write(o.Write, "write the thread as M8×1.25×30, or 1/4-20 UNC × 3/4"),
				}
				if len(o.Known) > 0 {
					f.Do = "correct it: the tables have " + rules.List(o.Known, "and")
				}
				if o.Write != "" && f.At.Text() == o.Typed {
					f.Fixes = []diag.Fix{{Title: "write " + o.Write, Edits: []diag.Edit{{At: f.At, Text: o.Write}}}}
				}
				all = append(all, f)
			}
		}
		return all
	},
}

// withinSpec is the place of an oddity; where escapes make the cell unlike the source, the whole cell.
func withinSpec(p *procedure.Part, o hardware.Oddity) source.Span {
	return within(p.Spec.At, p.Spec.Value, o.Start, o.End-o.Start)
}

func oddWords(o hardware.Oddity) string {
	typed := rules.Quote(o.Typed)
	switch o.Kind {
	case "strength":
		return typed + " runs a thread and a strength together"
	case "pitch":
		return fmt.Sprintf("%s: no pitch of that diameter is coarser than its coarse one", typed)
	case "threads":
		return fmt.Sprintf("%s: that series has another number of threads to the inch", typed)
	}
	return typed + " starts like a thread and can't be read as one"
}
