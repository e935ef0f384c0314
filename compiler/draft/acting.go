package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// handled are the verbs whose things are parts of the table.
var handled = set("remove install replace discard loosen tighten snug torque")

// acting adds an act on things, with what the rest of its clause says of it.
func (r *reader) acting(a *act, objs []object, rest []tok) {
	if len(objs) > 1 {
		objs = slices.DeleteFunc(slices.Clone(objs), func(o object) bool { return a.verb == "lock off" && inClass("lock", o) })
	}
	if slices.ContainsFunc(rest[:min(3, len(rest))], func(t tok) bool { return t.low == "each" || t.low == "every" }) {
		objs = slices.Clone(objs)
		for i := range objs {
			objs[i].each = true
		}
	}
	if forFasteners.has(a.verb) {
		r.d.fasteners(objs)
	}
	a.objs = r.resolve(objs, handled.has(a.verb))
	if len(a.objs) == 0 {
		r.lost = true
		return
	}
	if prior := r.lastAct(); a.verb == "lock off" && prior != nil && prior.verb == "lock off" && prior.objs[0].name == a.objs[0].name {
		return // "switch the pump off and lock it off"
	}
	if a.verb == "install" && objs[0].pron == "it" {
		if prior := r.lastAct(); prior != nil && prior.verb == "install" && len(prior.objs) == 1 && prior.objs[0].thing == a.objs[0].thing {
			r.lost = true // it can't go on twice: another thing is meant
			return
		}
	}
	if rest = r.change(a, rest); len(a.objs) == 0 {
		return
	}
	if a.verb == "tighten" && slices.ContainsFunc(rest, func(t tok) bool {
		return t.low == "hand-tight" || t.low == "finger-tight" || (t.low == "hand" || t.low == "finger") && len(rest) > 1 && rest[len(rest)-1].low == "tight"
	}) {
		a.verb, a.spell = "snug", "snug"
	}
	if rest = r.noted(a, objs, rest); len(a.objs) == 0 {
		return
	}
	for _, b := range r.bare {
		b.objs = slices.Clone(a.objs)
		r.step.pieces = append(r.step.pieces, &piece{act: b})
	}
	r.bare = nil
	p := &piece{act: a}
	rest, until := r.until(rest)
	rest = r.together(a, rest)
	more := r.details(a, rest)
	for _, o := range a.objs {
		if o.prefix != "" {
			more = append([]run{{text: "(" + strings.TrimSpace(o.prefix) + ")"}}, more...)
		}
	}
	p.tail = append(more, r.pending...)
	r.pending = nil
	r.add(p)
	if until != nil {
		r.step.pieces = append(r.step.pieces, until)
	}
}

// noted keeps what later acts come back to: what was isolated, marked, and put on stands.
func (r *reader) noted(a *act, objs []object, rest []tok) []tok {
	switch a.verb {
	case "lock off":
		r.d.isolated = &a.objs[0]
	case "lower":
		if k := slices.IndexFunc(rest, func(t tok) bool { return t.low == "onto" || t.low == "on" }); k >= 0 {
			if found, _ := r.d.toolAt(rest, k+1, true); len(found) == 1 && classes["stand"].has(lastWord(found[0].name)) {
				a.verb, a.spell = "support", "support" // "lower it onto axle stands"
				r.d.supported = &a.objs[0]
			}
		}
	case "support":
		if inClass("stand", objs[0]) && len(rest) > 0 { // "put an axle stand under the axle"
			more, next := objects(rest, 0)
			if len(more) == 0 {
				r.lost, a.objs = true, nil
				return rest
			}
			if found, n := r.d.toolAt([]tok{{low: objs[0].name, print: objs[0].name}}, 0, true); n > 0 {
				r.pending = append(r.pending, run{text: "on the"}, run{tool: found[0]})
			}
			a.objs, rest = r.resolve(more, false), rest[next:]
		}
		if len(a.objs) > 0 {
			r.d.supported = &a.objs[0]
		}
	case "release":
		if inClass("stand", objs[0]) {
			if r.d.supported == nil {
				r.lost, a.objs = true, nil
				return rest
			}
			a.objs = []object{*r.d.supported}
		}
	case "mark":
		r.d.marked = &a.objs[0]
	case "align":
		if r.d.marked != nil && (lastWord(a.objs[0].name) == "mark" || a.objs[0].name == "") {
			a.objs = []object{*r.d.marked}
		}
	}
	return rest
}

// change tells what "replace it with a new one" means: new on, where the old one is off already; and leaves out what was
// said twice ("unscrew the nut and take it out").
func (r *reader) change(a *act, rest []tok) []tok {
	t := a.objs[0].thing
	if t == nil || len(a.objs) > 1 {
		for _, o := range a.objs {
			if o.thing != nil && moves.has(a.verb) {
				o.thing.off = a.verb == "remove"
			}
		}
		return rest
	}
	if a.verb == "remove" {
		if prior := r.lastAct(); prior != nil && prior.verb == "remove" && len(prior.objs) == 1 && prior.objs[0].thing == t {
			a.objs = nil
			return nil
		}
	}
	if a.verb == "replace" {
		isNew := len(rest) > 1 && rest[0].low == "with" && find(rest, 1, []string{"new"}) > 0
		if isNew {
			rest = nil
		}
		switch {
		case t.off && (isNew || a.objs[0].isNew):
			a.verb, a.spell, a.objs[0].isNew = "install", "install", true
		case t.off:
			r.lost = true // put back, or a new one?
		}
	}
	if moves.has(a.verb) {
		t.off = a.verb == "remove"
	}
	return rest
}

// moves are the verbs that take a thing off or put it on.
var moves = set("remove install replace")

// there reads "there's three bolts on the guard": what is spoken of, and taken up later.
func (r *reader) there(w []tok) bool {
	if len(w) < 2 {
		return false
	}
	i := 0
	switch {
	case w[0].num > 0 && len(r.step.pieces) == 0: // "two nuts on the cover, take them off"
	case w[0].low == "there" && (w[1].low == "is" || w[1].low == "are"):
		i = 2
	case w[0].low == "there's":
		i = 1
	case (w[0].low == "you'll" || w[0].low == "you") && (w[1].low == "see" || w[1].low == "find"), (w[0].low == "it" || w[0].low == "you") && w[1].low == "has",
		(w[0].low == "it's" || w[0].low == "you've") && w[1].low == "got":
		i = 2
	case w[0].low == "it's" && len(w) > 3 && (w[1].low == "just" || w[1].low == "only") && w[2].low == "got":
		i = 3
	default:
		return false
	}
	objs, n := objects(w, i)
	if len(objs) == 0 {
		return false
	}
	if i == 0 && (n >= len(w) || n+1 >= len(w) || w[n-1].stop != "" || !(w[n].low == "on" || w[n].low == "in") && (!preps.has(w[n].low) || !inClass("fastener", objs[0]))) {
		return false
	}
	if len(objs) != 1 || objs[0].name == "" || !nameable().MatchString(objs[0].name) {
		return false
	}
	r.announce(objs)
	return true
}

// until reads "until the sag is 20..30 mm": it is measured.
func (r *reader) until(rest []tok) ([]tok, *piece) {
	for i, t := range rest {
		if t.low != "until" {
			continue
		}
		name := rest[i+1:]
		at := slices.IndexFunc(name, func(t tok) bool { return t.q && t.limit })
		if at < 2 || name[at-1].low != "is" || at+1 < len(name) {
			return rest, nil
		}
		return rest[:i], &piece{act: &act{verb: "measure", spell: "measure", words: plainWords(name[:at-1]), limit: name[at].print}}
	}
	return rest, nil
}

// together reads "the drain plug with a new washer": both go on.
func (r *reader) together(a *act, rest []tok) []tok {
	at := slices.IndexFunc(rest, func(t tok) bool { return t.low == "with" })
	if at < 0 || at+1 >= len(rest) {
		return rest
	}
	also := at > 0 && rest[at-1].low == "together" || rest[at+1].low == "its"
	if a.verb != "install" && !(a.verb == "remove" && also) {
		return rest
	}
	objs, next := objects(rest, at+1)
	for _, o := range objs {
		known := r.d.find(o.name)
		if o.name == "" || supplies.has(lastWord(o.name)) || !o.isNew && !also && !(o.count > 0 && inClass("fastener", o)) && (known == nil || known.supply) {
			return rest
		}
	}
	if _, n := r.d.toolAt(rest, at+1, true); n > 0 || len(objs) == 0 {
		return rest
	}
	a.objs = append(a.objs, r.resolve(objs, true)...)
	if at > 0 && rest[at-1].low == "together" {
		at--
	}
	return slices.Concat(rest[:at], rest[next:])
}

// facts takes in what a sentence states of things: "the cover weighs 18 kg", "flange bolts 46 N·m", "oil 0.8 L".
func (d *drafter) facts(w []tok) {
	for from := 0; from < len(w); {
		to := from
		for to < len(w)-1 && !parted(w[to].stop) && w[to].low != "and" {
			to++
		}
		d.factOf(w[from : to+1])
		from = to + 1
	}
}

func (d *drafter) factOf(w []tok) {
	at := slices.IndexFunc(w, func(t tok) bool { return t.q })
	s := skipFillers(w, 0)
	if at <= s {
		return
	}
	objs, _ := objects(w, s)
	if len(objs) != 1 || objs[0].name == "" {
		return
	}
	known := d.find(objs[0].name)
	switch t := w[at]; {
	case t.kind == quantity.Torque && known != nil && !known.supply:
		known.torque = append(known.torque, t.print)
	case t.kind == quantity.Mass && at > 1 && w[at-1].low == "weighs":
		if known == nil {
			known = d.thing(&objs[0], false)
		}
		known.spec = append(known.spec, t.print)
	}
}
