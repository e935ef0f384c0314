package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

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
	if len(objs) > 0 && !noName(objs[0].name) && nameable().MatchString(objs[0].name) {
		if last := lastWord(objs[0].name); !toolNouns.has(last) && !weakNouns.has(last) {
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
	if i := slices.Index(way.words, "~"); i > 0 { // "write the time down"
		if at := find(w, 0+1, way.words[i+1:]); at > 0 && len(way.words) == 3 {
			w = slices.Concat(w[:at], w[at+1:])
		}
		if k := len(way.words) - 2; len(w) > k && w[0].low == way.words[2] { // "put on goggles"
			w = w[k:]
		}
		if r.d.lastCheck != nil && len(w) > 0 && pronouns.has(w[0].low) {
			a.words, w = r.d.lastCheck.words, w[1:]
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
	if a.verb == "measure" && len(w) > 0 && pronouns.has(w[0].low) && r.d.fact != nil {
		a.words, a.limit = r.d.fact.low, r.d.fact.print
		p.tail = append(r.runs(w[1:], false), p.tail...)
		r.d.fact = nil
	} else {
		a.words += plainWords(w)
	}
	if len(w) > 0 && w[0].low == sameAgain && len(r.d.recent) > 0 && (r.d.recent[0].plural || len(r.d.recent) > 1) {
		a.words = "them" + strings.TrimPrefix(a.words, "it")
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
			if more, next := r.things(rest, i+1); len(more) > 0 && supplies.has(lastWord(more[0].name)) {
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
