package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// match finds the way of saying an act that the clause is worded in: the longest wins, among equals the first of the table.
func (r *reader) match(w []tok) (best spoken, objs []object, rest []tok, ok bool) {
	for _, way := range sayings() {
		if way.words[0] != w[0].low || ok && len(way.words) <= len(best.words) {
			continue
		}
		o, left, fits := r.fits(way, w)
		if fits {
			best, objs, rest, ok = way, o, left, true
		}
	}
	return best, objs, rest, ok
}

func (r *reader) fits(way spoken, w []tok) ([]object, []tok, bool) {
	i, hole := 1, -1
	for k, word := range way.words[1:] {
		if word == "~" {
			if r.direct(way, w, i) { // "knock out the pin" as "knock the pin out"
				i += len(way.words) - 2
				break
			}
			hole = k + 1
			break
		}
		if i >= len(w) || w[i].low != word || w[i-1].stop != "" && w[i-1].low != "rem" {
			return nil, nil, false
		}
		i++
	}
	objs, next := r.things(w, i)
	if hole >= 0 {
		at := find(w, i+1, way.words[hole+1:])
		if at < 0 {
			return nil, nil, false
		}
		if objs, next = r.things(w[:at], i); next > i && next < at && within.has(w[next].low) && away.has(way.words[len(way.words)-1]) {
			w = slices.Concat(w[:next], w[at:at+len(way.words)-hole-1], w[next:at], w[at+len(way.words)-hole-1:])
			at = next // "the pressure in the line": what stands between belongs behind the act
		} else if next < at && !(next == at-1 && (w[next].low == "right" || w[next].low == "straight")) || next == i {
			return nil, nil, false
		}
		next = at + len(way.words) - hole - 1
		switch particle := way.words[len(way.words)-1]; {
		case particle == "from":
			next = at // "from the pulleys" tells where
		case particle == "with":
			objs, next = r.things(w, next)
		case next < len(w) && particle == "out" && w[next].low == "of" && w[next-1].stop == "":
			next-- // "out of the link"
		case next < len(w) && w[next-1].stop == "" && w[next].low != "and" && !preps.has(w[next].low) && !halts.has(w[next].low) && !w[next].q && !adverb(w[next].low) && particle != "up" && particle != "down" && !(particle == "under" && way.verb == "support"):
			next-- // "off the shaft": it belongs to what follows
		}
	}
	if len(objs) > 0 && sites.has(strings.ToLower(lastWord(objs[0].name))) && handled.has(way.verb) {
		return nil, nil, false // "press in the middle"
	}
	if way.verb == "tighten" && len(objs) == 0 && hole < 0 {
		return nil, w[next:], true // what went in before
	}
	if left := w[next:]; way.verb == "install" && len(left) > 1 && (left[0].low == "into" || left[0].low == "to" || left[0].low == "in") && modes.has(left[1].low) {
		return nil, nil, false // "back into automatic"
	}
	if way.need == "fastener" && way.verb == "tighten" && len(objs) == 1 && objs[0].pron == "it" && len(r.acts()) > 0 {
		return objs, w[next:], true // "clutch on and nip it up"
	}
	if way.need != "" && (len(objs) == 0 || !r.belongs(way.need, objs[0]) && !(way.need == "fastener" && slices.ContainsFunc(objs, func(o object) bool { return r.belongs(way.need, o) }))) {
		return nil, nil, false
	}
	return objs, w[next:], true
}

// within are words that tell more of a thing between its name and "off".
var within = set("in of on at from together")

// sites are places of a thing, and no things that come off.
var sites = set("middle centre center side top bottom end edge corner left right front rear ends sides")

var modes = set("automatic auto manual service neutral position remote local operation")

// direct tells whether the words behind "~" stand at i already, with a thing behind them.
func (r *reader) direct(way spoken, w []tok, i int) bool {
	for k, word := range way.words[2:] {
		if i+k >= len(w) || w[i+k].low != word || w[i+k-1].stop != "" {
			return false
		}
	}
	next := i + len(way.words) - 2
	return next < len(w) && !preps.has(w[next].low) && w[next].low != "place"
}

// find gives where words stand in a clause, from a place on; -1 when they do not.
func find(w []tok, from int, words []string) int {
	for i := from; i+len(words) <= len(w); i++ {
		if w[i-1].stop != "" {
			return -1
		}
		same := true
		for k, word := range words {
			same = same && w[i+k].low == word && (k == 0 || w[i+k-1].stop == "")
		}
		if same {
			return i
		}
	}
	return -1
}

// belongs tells whether a thing is of a class; a pronoun is what it stands for.
func (r *reader) belongs(class string, o object) bool {
	if o.pron != "" {
		if list := r.d.meant(o); len(list) > 0 {
			return inClass(class, list[0])
		}
	}
	return inClass(class, o)
}

// things reads the objects of an act; an amount may stand before a fluid.
func (r *reader) things(w []tok, i int) ([]object, int) {
	if i < len(w) && w[i].q && (w[i].kind == quantity.Volume || w[i].kind == quantity.Mass) {
		amount := w[i].print
		i++
		if i < len(w) && w[i].low == "of" {
			i++
		}
		objs, next := objects(w, i)
		if len(objs) > 0 {
			objs[0].spec = append(objs[0].spec, amount)
		}
		return objs, next
	}
	return objects(w, i)
}
