package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// add puts an act into the step; a torque that stands with another act is an act of its own behind it.
func (r *reader) add(p *piece) {
	a := p.act
	if a.torque != "" || a.verb == "tighten" || a.verb == "snug" {
		r.goesOn(a)
	}
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
		t.objs = fastened(t.objs)
		for i := range t.objs {
			t.objs[i].isNew = false
		}
		r.step.pieces = append(r.step.pieces, &piece{act: t})
	}
	for _, o := range r.lastAct("torque").objs {
		if o.thing != nil {
			r.torqueOf(o.thing, r.lastAct("torque").torque)
		}
	}
}

// goesOn puts an "install" before the tightening of fasteners that are off: "cover on, bolts to 30 N·m".
func (r *reader) goesOn(a *act) {
	if a.verb == "install" || a.verb == "remove" || a.verb == "replace" || r.lost {
		return
	}
	var off []object
	for _, o := range a.objs {
		if o.thing != nil && o.thing.off && inClass("fastener", object{name: o.thing.name}) {
			o.thing.off = false
			off = append(off, o)
		}
	}
	if len(off) > 0 {
		r.step.pieces = append(r.step.pieces, &piece{act: &act{verb: "install", spell: "install", objs: off}})
	}
}

// fastened gives the fasteners among things; all of them where none is known for one.
func fastened(list []object) []object {
	var some []object
	for _, o := range list {
		if inClass("fastener", o) || o.thing != nil && inClass("fastener", object{name: o.thing.name}) {
			some = append(some, o)
		}
	}
	if len(some) == 0 {
		return list
	}
	return some
}

var crossed = set("crosswise criss criss-cross crisscross diagonally diagonal cross star star-wise")

// details takes torque, order and passes out of the rest of a clause; what is left prints behind the tag.
func (r *reader) details(a *act, w []tok) []run {
	var left []tok
	for i := 0; i < len(w); i++ {
		t := w[i]
		switch {
		case t.q && t.kind == quantity.Torque:
			r.another(a, t.print)
			left = dropLast(left, "to", "at", "of", "a", "torque", "then", "and")
			left = dropLast(left, "to", "at", "of", "a", "torque")
		case t.q && t.kind == quantity.Angle && a.torque != "" && i > 0 && further.has(w[i-1].low):
			a.angle = t.print
			left = dropLast(left, "plus", "another", "a", "further", "then", "and")
		case t.q && (t.kind == quantity.Mass || t.kind == quantity.Length || t.kind == quantity.Force) && i > 0 && w[i-1].low == "to" && (a.verb == "torque" || a.verb == "tighten"):
			r.lost = true // "25 lb" is no torque
		case t.num > 0 && i > 0 && w[i-1].low == "to" && (a.verb == "torque" || a.verb == "tighten"):
			r.lost = true // "torque it to 15": of what?
		case crossed.has(t.low):
			a.order = "crosswise"
			left = dropLast(left, "a", "in")
			for i+1 < len(w) && (w[i+1].low == "cross" || w[i+1].low == "pattern" || w[i+1].low == "sequence" || w[i+1].low == "order") {
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

// torqueOf keeps the torque of a thing; where another was said before, it is asked which is right.
func (r *reader) torqueOf(t *thing, torque string) {
	if t == nil {
		return
	}
	if len(t.torque) > 0 && t.torque[len(t.torque)-1] != torque {
		r.step.asked = append(r.step.asked, Question{Text: "the notes give two torques for “" + escape(t.name) + "”: " + t.torque[len(t.torque)-1] + " and " + torque + ". Which is right, and when?", Rule: "torque/differs-from-table", Thing: t.name})
	}
	t.torque = append(t.torque, torque)
}

var further = set("plus another further then a")

// another takes in a torque; a second one makes passes of the two, the last is what counts.
func (r *reader) another(a *act, torque string) {
	first := a.torque
	a.torque = torque
	if first == "" || first == torque {
		return
	}
	f, unit, _ := strings.Cut(first, " ")
	l, same, _ := strings.Cut(torque, " ")
	if unit != same || a.passes != "" || strings.Contains(first+torque, "..") || strings.Contains(first+torque, "±") {
		r.lost = true
		return
	}
	a.passes = "in passes of " + f + ", " + l + " " + unit
}

func dropLast(w []tok, words ...string) []tok {
	for len(w) > 0 && slices.Contains(words, w[len(w)-1].low) {
		w = w[:len(w)-1]
	}
	return w
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
	a.objs = fastened(a.objs)
	for i := range a.objs {
		a.objs[i].isNew = false
	}
	if r.d.reverse { // the refitting is not written out: the table keeps the torque
		for _, o := range a.objs {
			r.torqueOf(o.thing, a.torque)
		}
		r.taken = true
		return true
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
		if a == nil || !handled.has(a.verb) {
			continue
		}
		return a.objs
	}
	return nil
}
