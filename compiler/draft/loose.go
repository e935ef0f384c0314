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
	a.objs = r.resolve(objs, handled[a.verb])
	if len(a.objs) == 0 {
		r.lost = true
		return
	}
	switch a.verb {
	case "lock off":
		r.d.isolated = &a.objs[0]
	case "support":
		if inClass("stand", objs[0]) && len(rest) > 0 { // "put an axle stand under the axle"
			more, next := objects(rest, 0)
			if len(more) == 0 {
				r.lost = true
				return
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
				r.plain(append([]tok{{low: "take", print: "take"}}, rest...))
				r.lost = true
				return
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
	p := &piece{act: a}
	more := r.details(a, rest)
	p.tail = append(more, r.pending...)
	r.pending = nil
	r.add(p)
}

// add puts an act into the step; a torque that stands with another act is an act of its own behind it.
func (r *reader) add(p *piece) {
	a := p.act
	r.step.pieces = append(r.step.pieces, p)
	if a.torque == "" {
		return
	}
	switch a.verb {
	case "tighten", "snug":
		a.verb, a.spell = "torque", "torque"
	case "torque":
	default:
		t := &act{verb: "torque", spell: "torque", objs: slices.Clone(a.objs), torque: a.torque, order: a.order, passes: a.passes}
		a.torque, a.order, a.passes = "", "", ""
		for i := range t.objs {
			t.objs[i].isNew = false
		}
		r.step.pieces = append(r.step.pieces, &piece{act: t})
	}
	for _, o := range r.lastAct("torque").objs {
		if o.thing != nil {
			o.thing.torque = append(o.thing.torque, r.lastAct("torque").torque)
		}
	}
}

var crossed = set("crosswise criss-cross crisscross diagonally diagonal cross star star-wise")

// details takes torque, order and passes out of the rest of a clause; what is left prints behind the tag.
func (r *reader) details(a *act, w []tok) []run {
	var left []tok
	for i := 0; i < len(w); i++ {
		t := w[i]
		switch {
		case t.q && t.kind == quantity.Torque && a.torque == "":
			a.torque = t.print
			left = dropLast(left, "to", "at", "of", "a", "torque")
		case crossed[t.low]:
			a.order = "crosswise"
			left = dropLast(left, "a", "in")
			for i+1 < len(w) && (w[i+1].low == "pattern" || w[i+1].low == "sequence" || w[i+1].low == "order") {
				i++
			}
		case t.num > 0 && i+1 < len(w) && (w[i+1].low == "passes" || w[i+1].low == "pass" || w[i+1].low == "stages" || w[i+1].low == "goes"):
			a.passes = "in " + t.print + " passes"
			left = dropLast(left, "in")
			i++
		default:
			left = append(left, t)
		}
	}
	return r.runs(left, true)
}

func dropLast(w []tok, words ...string) []tok {
	for len(w) > 0 && slices.Contains(words, w[len(w)-1].low) {
		w = w[:len(w)-1]
	}
	return w
}

// loose reads a clause without an order: a tool, a torque, a count, a value, or plain words.
func (r *reader) loose(c clause) {
	w := c.w
	if found, n := r.d.toolAt(w, lead(w), lead(w) > 0 || len(w) > 0 && w[0].q); n > 0 {
		r.tail(append([]run{{text: "with the"}}, append(tagged(found), r.runs(w[lead(w)+n:], true)...)...))
		return
	}
	if r.back(w) || r.torqued(w) || r.counted(w) || r.value(w) {
		return
	}
	runs := r.runs(w, true)
	for _, t := range w {
		r.valued = r.valued || t.q
	}
	if len(runs) > 0 && (r.last() != nil || len(w) < 3) {
		runs[0].comma = true
		r.tail(runs)
		return
	}
	r.step.pieces = append(r.step.pieces, &piece{tail: runs})
}

func lead(w []tok) int {
	if len(w) > 1 && (w[0].low == "with" || w[0].low == "using" || w[0].low == "use") {
		return 1
	}
	return 0
}

func tagged(found []*tool) []run {
	var all []run
	for i, t := range found {
		if i > 0 {
			all = append(all, run{text: "and"})
		}
		all = append(all, run{tool: t})
	}
	return all
}

// tail puts words behind the last piece, or keeps them for the next act.
func (r *reader) tail(runs []run) {
	if p := r.last(); p != nil {
		p.tail = append(p.tail, runs...)
		return
	}
	r.pending = append(r.pending, runs...)
}

// back reads "caliper back on", "new belt on", "guard off".
func (r *reader) back(w []tok) bool {
	objs, n := objects(w, 0)
	if len(objs) == 0 || n >= len(w) || w[n-1].stop != "" || objs[0].name == "" {
		return false
	}
	name := "install"
	k := n
	switch w[k].low {
	case "back":
		k++
		if k < len(w) && (w[k].low == "on" || w[k].low == "in") && w[k-1].stop == "" {
			k++
		}
	case "on", "in":
		k++
	case "off", "out":
		name = "remove"
		k++
	default:
		return false
	}
	if k < len(w) && w[k-1].stop == "" && w[n].low != "back" {
		return false // "bolts on the cover …": what is said of them
	}
	r.ordered = true
	r.acting(&act{verb: name, spell: name}, objs, w[k:])
	return true
}

// torqued reads a torque without a verb: "flange bolts 46 N·m", "45 N·m on the bolts", "the cap nut gets 30 lbf·ft".
func (r *reader) torqued(w []tok) bool {
	at := slices.IndexFunc(w, func(t tok) bool { return t.q && t.kind == quantity.Torque })
	if at < 0 {
		return false
	}
	var objs []object
	if at > 0 {
		objs, _ = objects(w, 0)
	}
	if len(objs) == 0 && at+1 < len(w) {
		i := at + 1
		if w[i].low == "on" || w[i].low == "for" {
			objs, _ = objects(w, i+1)
		}
	}
	if len(objs) > 0 && (lastWord(objs[0].name) == "torque" || lastWord(objs[0].name) == "setting") {
		objs = nil
	}
	a := &act{verb: "torque", spell: "torque", torque: w[at].print}
	if len(objs) == 0 {
		prior := r.lastFastened()
		if prior == nil {
			r.lost = true
			return true
		}
		a.objs = slices.Clone(prior)
	} else {
		a.objs = r.resolve(objs, true)
	}
	if len(a.objs) == 0 {
		r.lost = true
		return true
	}
	for i := range a.objs {
		a.objs[i].isNew = false
	}
	r.details(a, slices.Concat(w[:at], w[at+1:]))
	r.ordered = true
	r.add(&piece{act: a})
	return true
}

// lastFastened gives the fasteners that were last spoken of in this sentence, else its last things.
func (r *reader) lastFastened() []object {
	for i := len(r.step.pieces) - 1; i >= 0; i-- {
		a := r.step.pieces[i].act
		if a == nil || !handled[a.verb] {
			continue
		}
		return a.objs
	}
	return nil
}

// counted reads "four screws" beside an act: they come off or go on with it.
func (r *reader) counted(w []tok) bool {
	a := r.lastAct()
	if a == nil || len(w) == 0 {
		return false
	}
	name := map[string]string{"open": "remove", "remove": "remove", "close": "install", "install": "install"}[a.verb]
	o, n := phrase(w, 0)
	if w[0].q && w[0].kind == quantity.Length && len(w) == 1 && len(a.objs) > 0 && a.objs[len(a.objs)-1].thing != nil && !a.objs[len(a.objs)-1].thing.supply {
		t := a.objs[len(a.objs)-1].thing
		t.spec, r.taken = append(t.spec, w[0].print), true
		return true
	}
	if name == "" || o.count == 0 || o.name == "" || !inClass("fastener", o) || n < len(w) {
		return false
	}
	r.acting(&act{verb: name, spell: name}, []object{o}, nil)
	if name == "remove" && a.verb == "remove" { // the screws come off before what they hold
		k := len(r.step.pieces)
		r.step.pieces[k-1], r.step.pieces[k-2] = r.step.pieces[k-2], r.step.pieces[k-1]
	}
	return true
}

// value reads "it should be 3..4 mm" behind a check, "the cover weighs 18 kg", and a value that is measured later.
func (r *reader) value(w []tok) bool {
	at := slices.IndexFunc(w, func(t tok) bool { return t.q })
	if at < 0 {
		return false
	}
	t := w[at]
	if t.kind == quantity.Mass && at > 1 && (w[at-1].low == "weighs" || w[at-1].low == "is") {
		r.d.facts(w)
		return false
	}
	if a := r.lastAct("measure", "check"); a != nil && a.limit == "" && t.kind != quantity.Torque && at == len(w)-1 && t.kind != quantity.Mass {
		if at == 0 || pronouns[w[0].low] || w[0].low == "you're" || w[0].low == "looking" || t.limit {
			a.limit = t.print
			r.taken = true
			return true
		}
	}
	if t.limit && at > 1 {
		name := w[:at]
		for len(name) > 0 && (name[len(name)-1].low == "is" || name[len(name)-1].low == "be" || name[len(name)-1].low == "should" || name[len(name)-1].low == "must") {
			name = name[:len(name)-1]
		}
		for len(name) > 0 && marks[name[0].low] {
			name = name[1:]
		}
		if len(name) > 0 && len(name) < at {
			r.d.fact = &tok{low: plainWords(name), print: t.print}
			return true
		}
	}
	return false
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
	known := d.find(objs[0].name, false)
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

// plainWords gives the words of a clause as they were typed, with the marks between them.
func plainWords(w []tok) string {
	var b strings.Builder
	for i, t := range w {
		if i > 0 {
			b.WriteByte(' ')
		}
		if strings.Contains(t.open, "(") {
			b.WriteString("(")
		}
		b.WriteString(t.print)
		if i+1 < len(w) || strings.Contains(t.stop, ")") && strings.Contains(b.String(), "(") {
			b.WriteString(strings.TrimRight(t.stop, ".!?;:,"))
			if i+1 < len(w) && strings.Contains(t.stop, ",") {
				b.WriteString(",")
			}
		}
	}
	return b.String()
}
