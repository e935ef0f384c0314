// Package refit writes the refitting stage that a procedure lacks: what the ledger says is due, in the reverse of the order in
// which it came about, as far as what holds, hides, locks and seals what allows it.
package refit

import (
	"fmt"
	"slices"

	"refitcard/compiler/assembly"
	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
)

// op is one act to write: a thing that is due, for the variants in whose play it is.
type op struct {
	assembly.Due
	variants []string // empty: all
	mixed    bool     // the variants differ in the count: "all"
	at       int      // how urgent: when it came about, or what waits for it
	own      int      // when it came about: what came about last is put right first
	after    []*op    // what has to be done before it
	done     bool
}

// plan gives what is due in all plays, in the order in which it is to be done, and asks about parts that can't be got at.
func plan(p *procedure.Procedure, plays []assembly.Play) (list []*op, asks []string) {
	ops := gather(p, plays)
	b := bonds{p, ops}
	var shut []*procedure.Part
	for _, x := range ops {
		switch {
		case x.Kind == assembly.DueChange && b.shut(x.Part):
			shut = append(shut, x.Part)
			asks = append(asks, fmt.Sprintf("when is the %s changed? The old one is on, and out of reach.", x.Part.Name.Value))
		case x.Kind == assembly.DueFit && b.covered(x) != nil:
			asks = append(asks, fmt.Sprintf("when does the %s come off? The %s goes on behind it.", b.covered(x).Name.Value, x.Part.Name.Value))
		}
	}
	ops = slices.DeleteFunc(ops, func(x *op) bool { return x.Part != nil && slices.Contains(shut, x.Part) })
	b.ops = ops
	for _, x := range ops {
		b.bind(x)
	}
	return ordered(ops), asks
}

// gather joins the plays: what is due in several is one act.
func gather(p *procedure.Procedure, plays []assembly.Play) (ops []*op) {
	when := moments(p)
	for _, play := range plays {
		for _, d := range play.Due {
			d.Act = tookOff(play, d)
			i := slices.IndexFunc(ops, func(x *op) bool {
				return x.Kind == d.Kind && x.Name == d.Name && (d.Verb == nil || x.Verb == d.Verb)
			})
			if i < 0 {
				ops = append(ops, &op{Due: d, variants: []string{play.Variant}, at: when(d), own: when(d)})
				continue
			}
			x := ops[i]
			x.variants = append(x.variants, play.Variant)
			x.mixed = x.mixed || x.N != d.N || x.Part != d.Part && x.Part != nil && x.Part.Qty != d.Part.Qty
			x.at = max(x.at, when(d))
			x.own = x.at
		}
	}
	for _, x := range ops {
		if len(x.variants) == len(plays) {
			x.variants = nil
		}
	}
	return ops
}

// tookOff is the act that a thing is due for. What was thrown away came off before.
func tookOff(play assembly.Play, d assembly.Due) *procedure.Act {
	if d.Part == nil || d.Act == nil || d.Act.Verb.Effect != verb.Discard {
		return d.Act
	}
	for _, m := range slices.Backward(play.Moves) {
		if m.Part == d.Part && m.To == "off" {
			return m.Act
		}
	}
	return d.Act
}

// moments gives a function that tells when a thing became due: by the place of its act in the job, and of its name in that act.
func moments(p *procedure.Procedure) func(assembly.Due) int {
	const names = 256 // more than an act has
	at := map[*procedure.Act]int{}
	for i, a := range p.Starts {
		at[a] = (i - len(p.Starts)) * names
	}
	n := 0
	var walk func([]*procedure.Step)
	walk = func(steps []*procedure.Step) {
		for _, s := range steps {
			for _, a := range s.Acts {
				n++
				at[a] = n * names
			}
			walk(s.Steps)
		}
	}
	for _, s := range p.Stages {
		walk(s.Steps)
	}
	return func(d assembly.Due) int {
		if d.Act == nil {
			return -1 << 30
		}
		return at[d.Act] + max(slices.IndexFunc(d.Act.Objects, func(o procedure.Object) bool { return o.Name == d.Name }), 0)
	}
}

// ordered puts what came about last first, unless something else has to be done before it. In a circle of bonds the latest goes
// first.
func ordered(ops []*op) (list []*op) {
	better := func(a, b *op) bool {
		if a.at != b.at {
			return a.at > b.at
		}
		if a.own != b.own {
			return a.own > b.own
		}
		return a.Kind < b.Kind
	}
	inherit(ops)
	for len(list) < len(ops) {
		var free, any *op
		for _, x := range ops {
			if x.done {
				continue
			}
			if any == nil || better(x, any) {
				any = x
			}
			blocked := slices.ContainsFunc(x.after, func(y *op) bool { return !y.done })
			if !blocked && (free == nil || better(x, free)) {
				free = x
			}
		}
		if free == nil {
			free = any
		}
		free.done = true
		list = append(list, free)
	}
	return list
}

// inherit hurries what others wait for: it is as urgent as the most urgent of them. Giving energy back waits for all and hurries nothing.
func inherit(ops []*op) {
	for changed := true; changed; {
		changed = false
		for _, x := range ops {
			for _, y := range x.after {
				if x.Kind != assembly.DueRestore && y.at < x.at {
					y.at, changed = x.at, true
				}
			}
		}
	}
}
