package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
	"refitcard/compiler/verb"
)

// reader reads one sentence.
type reader struct {
	d       *drafter
	step    *step
	pending []run // said before the act that it belongs to
	lost    bool
	ordered bool   // something is ordered, in plain words or as an act
	valued  bool   // a figure stands in words that were not understood
	taken   bool   // the figure was taken into a table
	bare    []*act // orders whose things come with the next one
}

func (r *reader) acts() []*act {
	var all []*act
	for _, p := range r.step.pieces {
		if p.act != nil {
			all = append(all, p.act)
		}
	}
	return all
}

func (r *reader) last() *piece {
	if n := len(r.step.pieces); n > 0 {
		return r.step.pieces[n-1]
	}
	return nil
}

func (r *reader) lastAct(verbs ...string) *act {
	for i := len(r.step.pieces) - 1; i >= 0; i-- {
		if a := r.step.pieces[i].act; a != nil && (len(verbs) == 0 || slices.Contains(verbs, a.verb)) {
			return a
		}
	}
	return nil
}

func (r *reader) clause(c clause) {
	if len(c.w) == 0 {
		return
	}
	for _, t := range c.w {
		r.lost = r.lost || t.doubt
	}
	switch {
	case c.cond:
		r.condition(c.w)
	case c.order:
		r.ordered = true
		r.order(c.w)
	default:
		r.loose(c)
	}
}

// condition keeps "if it is cracked" for the steps's {if …}; any other is words before its act.
func (r *reader) condition(w []tok) {
	if w[0].low == "if" && len(r.step.pieces) == 0 && r.step.cond == "" {
		r.step.cond = strings.TrimRight(plainWords(w[1:]), ",")
		return
	}
	if p := r.last(); p != nil {
		p.tail = append(p.tail, r.runs(w, false)...)
		return
	}
	r.pending = append(r.pending, r.runs(w, false)...)
}

// order reads a clause that opens with its order.
func (r *reader) order(w []tok) {
	if r.smeared(w) {
		return
	}
	way, objs, rest, ok := r.match(w)
	if p := waits(w); p != "" && (!ok || way.verb == "drain") {
		r.wait(w, p, ok)
		if !ok {
			return
		}
	}
	if !ok || way.verb == "-" {
		r.plain(w)
		return
	}
	row, _ := r.d.verbs.Named(way.verb)
	a := &act{verb: way.verb, spell: way.verb}
	if v, ok := r.d.verbs.Named(way.phrase); ok && v.Name == way.verb {
		a.spell = way.phrase
	}
	switch row.Takes {
	case verb.Words, verb.Limit, verb.Measure:
		r.worded(a, w[len(way.words):], way)
		return
	case verb.Fluids:
		r.fluid(a, objs, rest)
		return
	}
	if len(objs) == 0 && len(rest) == 0 && !handled[a.verb] {
		r.bare = append(r.bare, a) // "raise and lower the arm"
		return
	}
	if len(objs) == 0 && (a.verb == "torque" || a.verb == "tighten" || len(way.words) > 1 && len(r.acts()) > 0) {
		objs = slices.Clone(r.d.recent)
	}
	if len(objs) == 0 && (a.verb == "clean" || a.verb == "lubricate") {
		r.plain(w)
		return
	}
	if len(objs) == 0 {
		r.lost = true
		return
	}
	if way.phrase == "wire brush" {
		brush := r.d.tool("wire brush", nil)
		r.pending = append(r.pending, run{tool: brush})
	}
	r.acting(a, objs, rest)
}

// smeared reads "put a little grease on the ring": it is lubricated.
func (r *reader) smeared(w []tok) bool {
	switch w[0].low {
	case "put", "apply", "smear", "wipe", "dab", "rub", "spread":
	default:
		return false
	}
	for i := 1; i+1 < len(w) && w[i-1].stop == ""; i++ {
		if w[i].low != "on" && w[i].low != "to" && w[i].low != "onto" {
			continue
		}
		name := strings.ToLower(w[i-1].low)
		if name != "grease" && name != "oil" && name != "lubricant" {
			return false
		}
		objs, next := objects(w, i+1)
		if len(objs) == 0 {
			return false
		}
		a := &act{verb: "lubricate", spell: "lubricate", objs: r.resolve(objs, false)}
		if len(a.objs) == 0 {
			r.lost = true
			return true
		}
		with := object{name: name}
		words := plainWords(w[1 : i-1])
		if w[0].low == "dab" && len(words) > 0 && w[1].low == "of" {
			words = "a dab " + words
		}
		p := &piece{act: a, tail: []run{{text: strings.TrimSpace("with " + words)}, {supply: r.d.thing(&with, true)}}}
		p.tail = append(p.tail, r.runs(w[next:], true)...)
		r.step.pieces = append(r.step.pieces, p)
		return true
	}
	return false
}

// match finds the way of saying an act that the clause is worded in: the longest wins, among equals the first of the table.
func (r *reader) match(w []tok) (best spoken, objs []object, rest []tok, ok bool) {
	for _, way := range sayings {
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
		if objs, next = r.things(w[:at], i); next < at && !(next == at-1 && (w[next].low == "right" || w[next].low == "straight")) || next == i {
			return nil, nil, false
		}
		next = at + len(way.words) - hole - 1
		switch particle := way.words[len(way.words)-1]; {
		case particle == "with":
			objs, next = r.things(w, next)
		case next < len(w) && particle == "out" && w[next].low == "of" && w[next-1].stop == "":
			next-- // "out of the link"
		case next < len(w) && w[next-1].stop == "" && !preps[w[next].low] && !halts[w[next].low] && !w[next].q && !adverb(w[next].low) && particle != "up" && particle != "down" && particle != "under":
			next-- // "off the shaft": it belongs to what follows
		}
	}
	if len(objs) > 0 && sites[strings.ToLower(lastWord(objs[0].name))] && handled[way.verb] {
		return nil, nil, false // "press in the middle"
	}
	if way.verb == "tighten" && len(objs) == 0 && hole < 0 {
		return nil, w[next:], true // what went in before
	}
	if way.need != "" && (len(objs) == 0 || !r.belongs(way.need, objs[0])) {
		return nil, nil, false
	}
	return objs, w[next:], true
}

// sites are places of a thing, and no things that come off.
var sites = set("middle centre center side top bottom end edge corner left right front rear ends sides")

// direct tells whether the words behind "~" stand at i already, with a thing behind them.
func (r *reader) direct(way spoken, w []tok, i int) bool {
	for k, word := range way.words[2:] {
		if i+k >= len(w) || w[i+k].low != word || w[i+k-1].stop != "" {
			return false
		}
	}
	next := i + len(way.words) - 2
	return next < len(w) && !preps[w[next].low] && w[next].low != "place"
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

// waits gives the time of a clause that orders to wait.
func waits(w []tok) string {
	switch w[0].low {
	case "wait", "leave", "let", "give", "allow", "soak":
	default:
		return ""
	}
	for _, t := range w {
		if t.q && t.kind == quantity.Time {
			return t.print
		}
	}
	return ""
}

func (r *reader) wait(w []tok, time string, drained bool) {
	p := &piece{act: &act{verb: "wait", spell: "wait", amount: time}}
	for i, t := range w {
		if t.print == time && !drained {
			p.tail = r.runs(w[i+1:], false)
			break
		}
	}
	r.step.pieces = append(r.step.pieces, p)
}

// plain keeps an order that is no act of the language, with the tools that it names in tags.
func (r *reader) plain(w []tok) {
	for i := 1; i+1 < len(w); i++ {
		if w[i].low != "to" {
			continue
		}
		if way, objs, _, ok := r.match(w[i+1:]); ok && way.verb == "relieve" && len(objs) > 0 {
			r.step.pieces = append(r.step.pieces, &piece{act: &act{verb: "relieve", spell: "relieve", objs: r.resolve(objs, false)}})
			break
		}
	}
	r.mentioned(w)
	first := r.runs(w[:1], false)
	p := &piece{tail: append(append(first, r.runs(w[1:], true)...), r.pending...)}
	r.pending = nil
	r.step.pieces = append(r.step.pieces, p)
}

// mentioned keeps what a plain order speaks of: "it" behind it is that, and nothing from before.
func (r *reader) mentioned(w []tok) {
	objs, _ := objects(w, 1)
	for _, o := range objs {
		if o.pron != "" {
			return
		}
	}
	r.d.lastOne = nil
	if len(objs) > 0 && !noName(objs[0].name) && nameable.MatchString(objs[0].name) {
		if last := lastWord(objs[0].name); !toolNouns[last] && !weakNouns[last] {
			r.d.remember(objs)
		}
	}
}

// worded reads an act whose words stand as they are: check, tell, record, wear, measure.
func (r *reader) worded(a *act, w []tok, way spoken) {
	p := &piece{act: a}
	switch way.phrase {
	case "look for", "test for":
		a.words = "for "
	case "prove":
		if len(w) > 0 && w[0].low == "dead" {
			a.words = ""
		}
	}
	end := len(w)
	for i, t := range w {
		if (t.low == "with" || t.low == "using") && i+1 < len(w) {
			if found, n := r.d.toolAt(w, i+1, true); n > 0 {
				for _, x := range found {
					x.used = true
				}
				end = i
				p.tail = r.runs(w[i:], true)
				break
			}
		}
	}
	w = w[:end]
	for i, t := range w {
		if t.q && a.limit == "" && i > 0 && (t.limit || i == len(w)-1) && (a.verb == "measure" || a.verb == "check") {
			a.limit = t.print
			p.tail = append(r.runs(w[i+1:], false), p.tail...)
			w = w[:i]
			for len(w) > 0 && (w[len(w)-1].low == "is" || w[len(w)-1].low == "be" || w[len(w)-1].low == "should" || w[len(w)-1].low == "to") {
				w = w[:len(w)-1]
			}
			break
		}
	}
	if a.verb == "measure" && len(w) > 0 && pronouns[w[0].low] && r.d.fact != nil {
		a.words, a.limit = r.d.fact.low, r.d.fact.print
		p.tail = append(r.runs(w[1:], false), p.tail...)
		r.d.fact = nil
	} else {
		a.words += plainWords(w)
	}
	if strings.TrimSpace(a.words) == "" {
		r.lost = true
	}
	r.step.pieces = append(r.step.pieces, p)
	if a.verb == "check" || a.verb == "measure" {
		r.d.lastCheck = a
	}
}

// fluid reads drain, fill and top up.
func (r *reader) fluid(a *act, objs []object, rest []tok) {
	for i := range objs {
		if len(objs[i].spec) > 0 {
			a.amount, objs[i].spec = objs[i].spec[0], nil
		}
	}
	for i, t := range rest {
		if t.q && t.kind == quantity.Volume && a.amount == "" {
			a.amount = t.print
			rest = slices.Delete(slices.Clone(rest), i, i+1)
			break
		}
		if t.low == "with" {
			if more, next := r.things(rest, i+1); len(more) > 0 && supplies[lastWord(more[0].name)] {
				if len(more[0].spec) > 0 {
					a.amount, more[0].spec = more[0].spec[0], nil
				}
				objs, rest = more, slices.Concat(rest[:i], rest[next:])
				break
			}
		}
	}
	resolved := r.resolve(objs, true)
	if len(resolved) == 0 || !resolved[0].thing.supply {
		r.lost = true
		return
	}
	a.objs = resolved[:1]
	if a.amount != "" && a.verb != "drain" {
		a.objs[0].thing.amount = append(a.objs[0].thing.amount, a.amount)
	}
	p := &piece{act: a, tail: r.runs(rest, true)}
	r.step.pieces = append(r.step.pieces, p)
	if len(resolved) > 1 {
		r.lost = true
	}
}
