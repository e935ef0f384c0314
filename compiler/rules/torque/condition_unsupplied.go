package torque

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

var conditionUnsupplied = rules.Rule{
	Name:     "torque/condition-unsupplied",
	Severity: diag.Warning,
	Waivable: true,
	Check: func(j *rules.Job) []diag.Finding {
		var all []diag.Finding
		for _, p := range j.Proc.Parts {
			for _, c := range p.Hardware.Condition {
				words := means[c]
				if len(words) == 0 || j.Muted(p.Name.Value) || broughtAlong(p.Spec.Value) || appliedBefore(j, p, words) || unreadSupply(j, words) {
					continue
				}
				act := lastTorque(j, p)
				if act == nil {
					continue
				}
				f := diag.Finding{
					At: act.At, Step: act.Step.Num(), Thing: p.Name.Value,
					Message: fmt.Sprintf("%s is torqued, and the %s that its Spec asks for is not used before", rules.Quote(p.Name.Value), noun[c]),
					Do:      "name it in the step: {supply " + noun[c] + "}, and list it under Supplies; or take the word out of the Spec",
				}
				f.Related = append(f.Related, source.Related{At: p.Spec.At, Words: "the Spec"})
				all = append(all, f)
			}
		}
		return all
	},
}

// means lists the words in the name of a supply that bring a condition about; conditions that need no supply are left out.
var means = map[string][]string{
	"threadlocker": {"threadlock", "thread lock", "locking compound", "locking fluid", "anaerobic"},
	"oiled":        {"oil", "lubricant", "grease"},
	"anti-seize":   {"anti seize", "antiseize", "copper grease", "copper paste", "assembly paste", "assembly grease"},
}

var noun = map[string]string{"threadlocker": "threadlocker", "oiled": "oil", "anti-seize": "anti-seize"}

// unreadSupply tells whether the supply may be meant by a tag that could not be read, or stands in the list and no step uses
// it: then a finding about that says the same slip.
func unreadSupply(j *rules.Job, words []string) bool {
	if len(j.Named("supply/not-listed")) > 0 {
		return true
	}
	for _, name := range []string{"tag/unknown-verb", "tag/unclosed"} {
		for _, f := range j.Named(name) {
			if rules.WordAt(f, 1) == "supply" || strings.HasPrefix(strings.ToLower(rules.WordAt(f, 0)), "supply ") {
				return true
			}
		}
	}
	used := map[*procedure.Supply]bool{}
	j.EachAct(func(a *procedure.Act) {
		for _, list := range [][]procedure.Object{a.Objects, a.Mentions} {
			for _, o := range list {
				used[o.Supply] = true
			}
		}
	})
	return slices.ContainsFunc(j.Proc.Supplies, func(s *procedure.Supply) bool {
		return !used[s] && slices.ContainsFunc(words, func(w string) bool { return strings.Contains(procedure.Fold(s.Name.Value), w) })
	})
}

// broughtAlong tells whether the part comes with its condition: threadlocker in a patch, oil from the packet.
func broughtAlong(spec string) bool {
	low := strings.ToLower(spec)
	return slices.ContainsFunc([]string{"pre-applied", "pre-coated", "precoated", "pre-oiled", "patch"}, func(w string) bool { return strings.Contains(low, w) })
}

// lastTorque is the last act that torques the part.
func lastTorque(j *rules.Job, p *procedure.Part) *procedure.Act {
	var last *procedure.Act
	j.EachStep(func(s *procedure.Step) {
		for _, a := range s.Acts {
			if a.Verb.Effect == verb.DoTorque && !a.Broken && slices.ContainsFunc(a.Objects, func(o procedure.Object) bool { return o.Part == p }) {
				last = a
			}
		}
	})
	return last
}

// appliedBefore tells whether a supply of that kind is used, or the part is lubricated, before the step after the last torque. In the
// step of the torque the order of the words is free: "torque …, with oil on the threads".
func appliedBefore(j *rules.Job, p *procedure.Part, words []string) bool {
	last := lastTorque(j, p)
	if last == nil {
		return false
	}
	applied, past := false, false
	holds := func(name string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(procedure.Fold(name), w) })
	}
	j.EachStep(func(s *procedure.Step) {
		if past {
			return
		}
		past = s == last.Step
		for _, a := range s.Acts {
			if a.Verb.Name == "lubricate" && (holds(a.Words) || strings.Contains(procedure.Fold(a.Words), procedure.Fold(p.Name.Value))) {
				applied = true
			}
			for _, list := range [][]procedure.Object{a.Objects, a.Mentions} {
				for _, o := range list {
					applied = applied || o.Supply != nil && holds(o.Supply.Name.Value)
				}
			}
		}
	})
	return applied
}
