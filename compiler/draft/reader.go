package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/verb"
)

// reader reads one sentence.
type reader struct {
	d       *drafter
	step    *step
	pending []run // said before the act that it belongs to
	lost    bool
	ordered bool      // something is ordered, in plain words or as an act
	valued  bool      // a figure stands in words that were not understood
	taken   bool      // the figure was taken into a table
	subject *[]object // "fan guard:", and what holds it comes next
	bare    []*act    // orders whose things come with the next one
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
		r.order(plainer(c.w))
	default:
		r.loose(c)
	}
}

// condition keeps "if it is cracked" for the steps's {if …}; any other is words before its act.
func (r *reader) condition(w []tok) {
	if objs, _ := objects(w, 1); len(objs) == 1 && marks.has(w[1].low) && w[1].low != "it's" && objs[0].pron == "" && objs[0].one && !noName(objs[0].name) && nameable().MatchString(objs[0].name) {
		r.d.remember(objs) // "if the ring is torn, fit a new one"
	}
	if w[0].low == "if" && len(r.step.pieces) == 0 && r.step.cond == "" {
		r.step.cond = strings.TrimRight(plainWords(w[1:]), ",")
		return
	}
	if len(w) == 1 {
		return // "Before: …"
	}
	if p := r.last(); p != nil {
		p.tail = append(p.tail, r.runs(w, false)...)
		return
	}
	r.pending = append(r.pending, r.runs(w, false)...)
}

// unsure keeps a clause in words, with a question before its step.
func (r *reader) unsure(w []tok) {
	r.step.asked = append(r.step.asked, Question{Text: quoted(plainWords(w)) + ": what is it done to? write it as an act", Rule: "unsure"})
	r.d.lastOne, r.d.lastMany, r.d.recent = nil, nil, nil
	r.step.pieces = append(r.step.pieces, &piece{tail: r.runs(w, false)})
}

// turning are orders that are acts for sure, whatever they are done to.
var turning = set("nip do tighten snug crack slacken loosen torque unscrew undo bin scrap chuck discard")

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
	if !ok && (starters.has(w[0].low) && !plain.has(w[0].low) || len(w) > 1 && turning.has(w[0].low) && pronouns.has(w[1].low)) {
		r.unsure(w) // "nip them up": nobody knows what
		return
	}
	if r.sameWay(w) || r.remindedOf(w) {
		return
	}
	if len(w) == 2 && w[0].low == "lock" && w[1].low == "off" && (r.d.isolated != nil || r.d.worked()) {
		r.plain(w) // "lock off, breaker on": the lock comes off
		return
	}
	if ok && handled.has(way.verb) && len(objs) > 0 && !slices.ContainsFunc(objs, func(o object) bool { return !inClass("lock", o) }) {
		way.verb = "-" // a padlock comes and goes with the isolation
	}
	if ok && strings.HasSuffix(way.phrase, " up") && way.verb == "remove" && slices.ContainsFunc(rest, func(t tok) bool { return t.low == "until" || t.low == "till" }) {
		way.verb = "-" // "pull the tensioner up until …"
	}
	if ok && way.verb == "-" && strings.HasSuffix(way.phrase, "back") && len(objs) > 0 && r.allOff(objs) {
		way.verb = "install" // "slide them back through"
	}
	if ok && way.verb == "install" && strings.HasSuffix(way.phrase, " on") && laidDown(rest) {
		way.verb = "-" // "lay the cutters on a rag"
	}
	if ok && way.verb == "remove" && len(objs) == 1 && dirt.has(strings.ToLower(lastWord(objs[0].name))) {
		way.verb = "-" // "pick all the weed out"
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
		skip := len(way.words)
		if slices.Contains(way.words, "~") {
			skip = 1
		}
		r.worded(a, w[skip:], way)
		return
	case verb.Fluids:
		if len(objs) == 0 {
			objs = r.d.onlyFluid() // "top off"
		}
		r.fluid(a, objs, rest)
		return
	}
	if len(objs) == 0 && len(rest) == 0 && !handled.has(a.verb) {
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
