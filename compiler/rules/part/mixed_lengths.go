package part

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/hardware"
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
		var placed map[*procedure.Part]bool
		for _, group := range byHeld(j) {
			for i, q := range group.parts {
				p := group.otherLength(j, i)
				if p == nil {
					continue
				}
				if placed == nil {
					placed = placedParts(j)
				}
				if placed[p] || placed[q] || muted(j, p) || muted(j, q) {
					continue
				}
				f := diag.Finding{
					At: q.Name.At, Thing: q.Name.Value,
					Message: fmt.Sprintf("%s and %s both hold the %s with thread %s, in the lengths %s and %s: nothing says which goes where",
						rules.Quote(p.Name.Value), rules.Quote(q.Name.Value), group.held.Name.Value, q.Hardware.Thread.Name, p.Hardware.Thread.Length, q.Hardware.Thread.Length),
					Do: "draw a layout with a letter for each: a = " + p.Name.Value + ", b = " + q.Name.Value,
				}
				f.Related = append(f.Related, source.Related{At: p.Name.At, Words: "the other length"})
				all = append(all, f)
			}
		}
		return all
	},
}

// alike is the fasteners of one thread and one head that hold one part.
type alike struct {
	held  *procedure.Part
	parts []*procedure.Part
}

// byHeld groups the fasteners that have a length, in the order of the table.
func byHeld(j *rules.Job) []*alike {
	if !lengthsDiffer(j) {
		return nil
	}
	var all []*alike
	known := map[string]*alike{}
	for _, p := range j.Proc.Parts {
		t := p.Hardware.Thread
		if t == nil || t.LengthMM() == 0 {
			continue
		}
		for _, r := range p.Places {
			if r.Kind != procedure.Holds || r.Part == nil {
				continue
			}
			key := fmt.Sprintf("%s; %.2f %.3f; %s", r.Part.Name.Value, t.Diameter, t.PitchMM(), p.Hardware.Head)
			if known[key] == nil {
				known[key] = &alike{held: r.Part}
				all = append(all, known[key])
			}
			known[key].parts = append(known[key].parts, p)
		}
	}
	return all
}

// lengthsDiffer tells whether fasteners of two lengths hold parts of one name: a first look.
func lengthsDiffer(j *rules.Job) bool {
	var threads map[string]*hardware.Thread // by the name of what is held
	for _, p := range j.Proc.Parts {
		t := p.Hardware.Thread
		if t == nil || t.Length == "" {
			continue
		}
		for _, r := range p.Places {
			if r.Kind != procedure.Holds || r.Part == nil {
				continue
			}
			if other := threads[r.Part.Name.Value]; other != nil && (other.Length != t.Length || other.Inch != t.Inch) {
				return true
			}
			if threads == nil {
				threads = map[string]*hardware.Thread{}
			}
			threads[r.Part.Name.Value] = t
		}
	}
	return false
}

// otherLength finds a fastener before the i-th that has another length and another name, in one variant with it. The first few
// tell: a longer list is no longer a joint.
func (g *alike) otherLength(j *rules.Job, i int) *procedure.Part {
	q := g.parts[i]
	for _, p := range g.parts[:min(i, 20)] {
		differs := math.Abs(p.Hardware.Thread.LengthMM()-q.Hardware.Thread.LengthMM()) > 0.01
		if differs && procedure.Fold(p.Name.Value) != procedure.Fold(q.Name.Value) && together(j, p, q) {
			return p
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

// placedParts collects the parts that a layout draws by themselves or with a letter, or whose install says in words where.
func placedParts(j *rules.Job) map[*procedure.Part]bool {
	all := map[*procedure.Part]bool{}
	for _, l := range j.Proc.Layouts {
		if len(l.Parts) == 1 {
			all[l.Parts[0]] = true
		}
		for _, x := range l.Places {
			all[x.Part] = true
		}
	}
	for _, a := range j.Acts() {
		if a.Verb.Effect != verb.Install || !saysWhere(a.Detail) {
			continue
		}
		for _, o := range a.Objects {
			all[o.Part] = true
		}
	}
	delete(all, nil)
	return all
}

// saysWhere tells whether the words behind a tag's objects name a place: "at the top", "in the two dowelled holes".
func saysWhere(detail string) bool {
	words := strings.Fields(procedure.Fold(detail))
	return len(words) > 1 && slices.Contains([]string{"in", "at", "on", "into", "through", "beside", "along", "under", "over", "nearest"}, words[0])
}
