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
		tags, put := torqueTags.Of(j), applications.Of(j)
		for _, p := range j.Proc.Parts {
			for _, c := range p.Hardware.Condition {
				if len(means[c]) == 0 || len(tags.of(p)) == 0 || broughtAlong(p.Spec.Value) || unreadSupply(j, means[c]) {
					continue
				}
				act := tags.of(p)[len(tags.of(p))-1]
				if put.before(act.Step, c, p) || j.Muted(p.Name.Value) {
					continue
				}
				f := diag.Finding{
					At: act.At, Step: act.Step.Num(), Thing: p.Name.Value,
					Message: fmt.Sprintf("%s is torqued, and the %s that its Spec asks for is used in no step before", rules.Quote(p.Name.Value), noun[c]),
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
	return slices.ContainsFunc(j.Proc.Supplies, func(s *procedure.Supply) bool {
		return !j.UsesSupply(s) && slices.ContainsFunc(words, func(w string) bool { return strings.Contains(procedure.Fold(s.Name.Value), w) })
	})
}

// broughtAlong tells whether the part comes with its condition: threadlocker in a patch, oil from the packet.
func broughtAlong(spec string) bool {
	low := strings.ToLower(spec)
	return slices.ContainsFunc([]string{"pre-applied", "pre-coated", "precoated", "pre-oiled", "patch"}, func(w string) bool { return strings.Contains(low, w) })
}

// applied is what is put on threads, step by step.
type applied struct {
	place func(*procedure.Step) int
	first map[string]int // by condition: where a supply of that kind is used first
	lubed []*procedure.Act
}

// applications looks through the steps once.
var applications = rules.NewFact(func(j *rules.Job) applied {
	all := applied{place: j.Place, first: map[string]int{}}
	for _, a := range j.Doing(verb.Act) {
		if a.Verb.Name == "lubricate" {
			all.lubed = append(all.lubed, a)
		}
	}
	brings := map[*procedure.Supply][]string{} // conditions
	for _, s := range j.Proc.Supplies {
		name := procedure.Fold(s.Name.Value)
		for condition, words := range means {
			if slices.ContainsFunc(words, func(w string) bool { return strings.Contains(name, w) }) {
				brings[s] = append(brings[s], condition)
			}
		}
	}
	if len(brings) == 0 {
		return all
	}
	for _, a := range j.StepActs() {
		for _, list := range [2][]procedure.Object{a.Objects, a.Mentions} {
			for i := range list {
				if s := list[i].Supply; s != nil {
					all.use(brings[s], j.Place(a.Step))
				}
			}
		}
	}
	return all
})

func (x applied) use(conditions []string, at int) {
	for _, c := range conditions {
		if _, known := x.first[c]; !known {
			x.first[c] = at
		}
	}
}

// before tells whether a supply of that kind is used, or the part is lubricated, up to the step of its last torque. In that step
// the order of the words is free: "torque …, with oil on the threads".
func (x applied) before(step *procedure.Step, condition string, p *procedure.Part) bool {
	if at, known := x.first[condition]; known && at <= x.place(step) {
		return true
	}
	name := procedure.Fold(p.Name.Value)
	return slices.ContainsFunc(x.lubed, func(a *procedure.Act) bool {
		words := procedure.Fold(a.Words)
		return x.place(a.Step) <= x.place(step) && (strings.Contains(words, name) || slices.ContainsFunc(means[condition], func(w string) bool { return strings.Contains(words, w) }))
	})
}
