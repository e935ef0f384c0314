package part

import (
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// oneWay lists parts that work only one way round, by how their name ends; filters only where the name says that a line runs
// through them, because one that is screwed on can't go on wrong. Common practice, no source.
var oneWay = []string{
	"lip seal", "rod seal", "rod wiper", "check valve", "non return valve", "nonreturn valve", "thrust bearing", "in line filter", "inline filter", "line filter",
}

// turned lists words by which a step says which way round something goes on. "with the flow" and the like are found by "flow".
var turned = map[string]bool{
	"face": true, "faces": true, "facing": true, "lip": true, "lips": true, "arrow": true, "arrows": true, "toward": true, "towards": true,
	"outward": true, "outwards": true, "inward": true, "inwards": true, "flow": true, "side": true, "round": true, "marked": true, "mark": true,
	"up": true, "down": true, "upward": true, "upwards": true, "downward": true, "downwards": true, "spring": true, "direction": true,
}

var noWayRound = rules.Rule{
	Name:     "part/no-way-round",
	Severity: diag.Advice,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		open := j.NoParts() // those that may go on the wrong way round, and of which nothing was said yet
		any := false
		for _, p := range j.Proc.Parts {
			if len(p.Faces) == 0 && oneWayRound(p) && !j.Muted(p.Name.Value) {
				open.Add(p)
				any = true
			}
		}
		if !any {
			return nil
		}
		for _, a := range j.StepActs() {
			if a.Broken || a.Verb.Effect != verb.Install && a.Verb.Effect != verb.Replace {
				continue
			}
			for _, o := range a.Objects {
				if !open.Has(o.Part) || saysWay(a.Step) {
					continue
				}
				open.Drop(o.Part)
				all = append(all, diag.Finding{
					At: o.At, Step: a.Step.Num(), Thing: o.Part.Name.Value,
					Message: rules.Quote(o.Part.Name.Value) + " works only one way round, and nothing says which",
					Do:      `write it in the Place column, such as "faces lip inward": it prints where the part goes on`,
				})
			}
		}
		return all
	},
}

// oneWayRound tells whether a part's name ends like one that can go on the wrong way round.
func oneWayRound(p *procedure.Part) bool {
	name := headOf(p.Name.Value)
	return slices.ContainsFunc(oneWay, func(w string) bool { return endsIn(name, w) })
}

// saysWay tells whether a step, or a note in it, speaks of the way round.
func saysWay(s *procedure.Step) bool {
	text := procedure.RunText(s.Runs)
	for _, n := range append(slices.Clone(s.Before), s.Notes...) {
		if n.Note != nil {
			text += " " + procedure.RunText(n.Note.Runs)
		}
		if n.Figure != nil {
			return true // the picture may show it
		}
	}
	text = strings.ReplaceAll(procedure.Fold(text), "lip seal", "seal") // the name is no word about its place
	return slices.ContainsFunc(strings.Fields(text), func(w string) bool { return turned[strings.Trim(w, ".,;:()")] })
}
