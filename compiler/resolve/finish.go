package resolve

import (
	"maps"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// maxSteps is the most steps that a procedure may have; beyond it nobody carries a card.
const maxSteps = 2000

// finish does what needs the whole: numbers of labels, starts and leaves, the limits.
func (r *resolver) finish() {
	r.step = nil
	r.p.Starts, r.p.Leaves = r.states("starts"), r.states("leaves")
	r.labels()
	r.layoutColumn()
	steps := 0
	r.p.EachStep(func(*procedure.Step) { steps++ })
	switch {
	case steps > maxSteps:
		r.fault("file/too-large", r.p.File.At(0, 0), "steps").Counts = []int{steps, maxSteps}
	case steps == 0:
		at := r.p.File.LineSpan(1)
		if n := len(r.in.Main.Sections); n > 0 {
			at = r.in.Main.Sections[n-1].TitleAt
		}
		if !r.missingInclude() {
			r.fault("file/no-steps", at)
		}
	}
	slices.SortStableFunc(r.faults, func(a, b source.Fault) int {
		switch {
		case less(a.At, b.At):
			return -1
		case less(b.At, a.At):
			return 1
		}
		return 0
	})
}

// missingInclude tells whether steps are missing because a file is: that has a finding of its own.
func (r *resolver) missingInclude() bool {
	return len(Includes(r.in.Main)) > len(r.in.Includes)
}

func less(a, b source.Span) bool {
	if a.File != b.File {
		return a.File != nil && b.File != nil && a.File.Path < b.File.Path
	}
	return a.Start < b.Start
}

func (r *resolver) labels() {
	names := slices.Sorted(maps.Keys(r.p.Labels))
	for _, n := range r.numbers {
		step, ok := r.p.Labels[n.label.Value]
		if !ok {
			r.fault("label/unknown", n.label.At, n.label.Value, verb.Near(n.label.Value, names))
			continue
		}
		n.ref.Number, n.ref.Sub, n.ref.Label = step.Number, step.Sub, n.label
	}
	for _, name := range names {
		if s := r.p.Labels[name]; !r.uses[name] && !r.nearlyUsed(name) {
			r.fault("label/unused", s.Label.At, name).Step = s.Number
		}
	}
}

// nearlyUsed tells whether a misspelt number tag meant this label: one slip, one finding.
func (r *resolver) nearlyUsed(name string) bool {
	for used := range r.uses {
		if r.p.Labels[used] == nil && verb.Near(used, []string{name}) != "" {
			return true
		}
	}
	return false
}

// layoutColumn reports a Layout cell that names no drawing.
func (r *resolver) layoutColumn() {
	var names []string
	for _, l := range r.p.Layouts {
		names = append(names, l.Name.Value)
	}
	for _, p := range r.p.Parts {
		if !p.Layout.Set() {
			continue
		}
		found := false
		for _, n := range names {
			found = found || procedure.Fold(n) == procedure.Fold(p.Layout.Value)
		}
		if !found {
			want := "the name of a layout block"
			if offer := verb.Near(p.Layout.Value, names); offer != "" {
				want = offer
			}
			r.fault("part/bad-row", p.Layout.At, "Layout", strings.TrimSpace(p.Layout.Value), want).Thing = p.Name.Value
		}
	}
}
