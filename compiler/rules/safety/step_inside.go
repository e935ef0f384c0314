package safety

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var stepInside = rules.Rule{
	Name:     "safety/step-inside",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, m := range j.Messages() {
			for _, c := range prose.Cut(m.Text) {
				n, v, thing := workIn(j, m.Text[c.From:c.To])
				if n == 0 || done(j, v, thing) || j.Muted(thing) {
					continue
				}
				all = append(all, diag.Finding{
					At: m.Place(c.From, c.From+n), Step: m.Step, Thing: thing,
					Message: fmt.Sprintf("%q is work on the %s, and no step does it", m.Text[c.From:c.From+n], thing),
					Do:      "write it as a step in braces, and leave in the message what protects people",
				})
			}
		}
		return all
	},
}

// workIn tells whether a sentence opens with an order to work on a declared thing: the length of the verb, the verb, the name.
// Acts that keep clear of the hazard (wear, keep, land, remove rings) name nothing that is declared.
func workIn(j *rules.Job, s string) (n int, v *verb.Verb, thing string) {
	v, n = j.Verbs.Longest(s)
	if v == nil {
		return 0, nil, ""
	}
	switch v.Effect {
	case verb.Remove, verb.Install, verb.Replace, verb.Drain, verb.Fill, verb.Tighten, verb.DoTorque, verb.Discard:
	default:
		return 0, nil, ""
	}
	rest := strings.Fields(s[n:])
	marked := false
	for len(rest) > 0 && mark(strings.ToLower(rest[0])) {
		marked, rest = true, rest[1:]
	}
	if !marked {
		return 0, nil, "" // "drain plugs are hot", "torque reaction …": a noun
	}
	for k := min(len(rest), 5); k > 0; k-- {
		name := procedure.Fold(strings.Trim(strings.Join(rest[:k], " "), ".,;:()"))
		if k < len(rest) && !edge(rest[k-1], rest[k]) {
			continue
		}
		if d := declared(j, v, name); d != "" {
			return n, v, d
		}
	}
	return 0, nil, ""
}

// marks are words before a name, edges words behind it.
var (
	marks = set("the a an its all both each every new old two three four six eight twelve")
	edges = set("in on from to at by with of through over under for against into onto until and then or again off back out up down while so as first before after only when if")
)

func mark(w string) bool {
	return marks[w] || w != "" && strings.Trim(w, "0123456789") == ""
}

// edge tells whether a name can end between two words.
func edge(last, next string) bool {
	if strings.ContainsAny(last[len(last)-1:], ".,;:)") {
		return true
	}
	next = strings.ToLower(next)
	return edges[next] || strings.HasSuffix(next, "ly")
}

// declared finds the part of a folded name, singular or plural; for what is drained or filled, the supply.
func declared(j *rules.Job, v *verb.Verb, name string) string {
	same := func(typed string) bool {
		return procedure.Fold(typed) == name || procedure.Fold(procedure.Plural(typed)) == name
	}
	if v.Effect == verb.Drain || v.Effect == verb.Fill {
		for _, s := range j.Proc.Supplies {
			if same(s.Name.Value) {
				return s.Name.Value
			}
		}
		return ""
	}
	for _, p := range j.Proc.Parts {
		if same(p.Name.Value) {
			return p.Name.Value
		}
	}
	return ""
}

// done tells whether a tag does to a thing what a message orders.
func done(j *rules.Job, v *verb.Verb, thing string) bool {
	folded := procedure.Fold(thing)
	return slices.ContainsFunc(j.Acts(), func(a *procedure.Act) bool {
		return serves(a.Verb, v) && slices.ContainsFunc(a.Objects, func(o procedure.Object) bool {
			return o.Name == folded || o.Part != nil && o.Part.Name.Value == thing || o.Supply != nil && o.Supply.Name.Value == thing
		})
	})
}

// serves tells whether one verb does what another orders: a pin that is to be fitted may well be inserted.
func serves(does, ordered *verb.Verb) bool {
	e := does.Effect
	switch ordered.Effect {
	case verb.Remove:
		return e == verb.Remove || e == verb.Replace || e == verb.Discard || e == verb.Open || e == verb.Close
	case verb.Install, verb.Replace:
		return e == verb.Install || e == verb.Replace || e == verb.Open || e == verb.Close
	case verb.Tighten, verb.DoTorque:
		return e == verb.Tighten || e == verb.DoTorque || e == verb.Snug
	case verb.Fill:
		return e == verb.Fill || e == verb.TopUp
	}
	return e == ordered.Effect
}
