package draft

import (
	"slices"
	"strings"

	"refitcard/compiler/quantity"
)

// clause is a part of a sentence with at most one order.
type clause struct {
	w       []tok
	order   bool // it opens with its order
	cond    bool // it opens with a condition
	bracket bool // it stands in brackets
}

var conditional = set("if when once after before until while unless whenever where")

// clauses cuts a sentence at its marks, and at "and", "then" or a filler that an order follows.
func clauses(w []tok) []clause {
	var all []clause
	from, cond := 0, false
	bare := !later(w, 0)
	put := func(to int) {
		if to > from {
			all = append(all, clauseOf(w[from:to]))
		}
	}
	for k := 0; k < len(w); k++ {
		if k == from {
			k = min(max(skipFillers(w, k), k), len(w)-1)
			cond = conditional.has(w[k].low)
			continue
		}
		if parted(w[k-1].stop) || strings.Contains(w[k].open, "(") {
			put(k)
			from = k
			k--
			continue
		}
		if cond && k > from+2 && (!later(w, from) && bareOrder(w, k) || youDo(w, k)) {
			put(k)
			from, cond = k, false
			k--
			continue
		}
		if !cond && bare && k > from+1 && runOn(w, k) {
			put(k)
			from = k
			k--
			continue
		}
		if !cond && joins(w, k) {
			put(k)
			from = k
			k--
		}
	}
	put(len(w))
	return all
}

// later tells whether a mark ends the clause that begins at from before the sentence ends.
func later(w []tok, from int) bool {
	for k := from; k+1 < len(w); k++ {
		if parted(w[k].stop) {
			return true
		}
	}
	return false
}

// youDo tells whether the order behind a condition begins at k with "you": "before you do anything you go to the board …".
func youDo(w []tok, k int) bool {
	if w[k].low != "you" || w[k-1].stop != "" || conditional.has(w[k-1].low) || preps.has(w[k-1].low) || k+1 >= len(w) {
		return false
	}
	_, ok := headAt(k+1, w)
	return ok
}

// bareOrder tells whether an order begins at k behind a condition without a comma: "if a hole is found fit a new one".
func bareOrder(w []tok, k int) bool {
	switch w[k].low {
	case "fit", "replace", "renew", "install", "put", "use", "call", "tell", "stop", "remove", "tighten", "check":
	default:
		return false
	}
	before := w[k-1].low
	return !marks.has(before) && !preps.has(before) && !pronouns.has(before) && before != "to" && before != "you" && before != "not" && before != "and" && before != "or"
}

var (
	plainly = set("take pull put remove undo grab throw drop tighten torque unscrew wipe let fit install slide press push set loosen slacken clean check grease drain")
	opening = set("the a an those these them it your both all each new old one")
)

// runOn tells whether an order begins at k in talk that has no marks: "… on the cap take those out".
func runOn(w []tok, k int) bool {
	if !plainly.has(w[k].low) || k+1 >= len(w) || !opening.has(w[k+1].low) && w[k+1].num == 0 {
		return false
	}
	before := w[k-1].low
	return fillerAt(w, k-1) == 0 && !marks.has(before) && (!preps.has(before) || before == "in" || before == "on") && before != "you" && before != "not" && before != "don't" && before != "or" && before != "can" && before != "will" && before != "never" && !adverb(before)
}

func parted(stop string) bool { return strings.ContainsAny(stop, ",;:.!?)–—-") }

// joins tells whether a new order begins behind the word at k.
func joins(w []tok, k int) bool {
	if before := w[k-1].low; before == "is" || before == "are" || before == "be" {
		return false // "the lid is then set back on"
	}
	n := fillerAt(w, k)
	if n == 0 || n == 1 && !(w[k].low == "and" || w[k].low == "then" || w[k].low == "next" || w[k].low == "now" || w[k].low == "but") {
		return false
	}
	s := skipFillers(w, k)
	if _, ok := headAt(s, w); ok {
		return true
	}
	if w[k].low != "and" {
		return false
	}
	end := s
	for end < len(w) && !parted(w[end].stop) {
		end++
	}
	from := k
	for from > 0 && !parted(w[from-1].stop) {
		from--
	}
	if s+2 < len(w) && people.has(w[s].low) && w[s+1].low == "to" {
		return true
	}
	before, _, _ := told(w[:k])
	if before == nil && happens(w[from:k]) == nil {
		return comes(w[s:min(end+1, len(w))]) != nil // "split the housing and the nut screws off"
	}
	after, _, _ := told(w[s:min(end+1, len(w))])
	if after == nil {
		after = happens(w[s:min(end+1, len(w))])
	}
	return after != nil || s < len(w) && base(w[s].low) != ""
}

func clauseOf(w []tok) clause {
	c := clause{bracket: strings.Contains(w[0].open, "(")}
	s := skipFillers(w, 0)
	if s >= len(w) {
		return clause{} // only talk
	}
	if conditional.has(w[s].low) {
		return clause{w: w[s:], cond: true}
	}
	if modifies.has(w[s].low) && s+1 < len(w) && !marks.has(w[s+1].low) && !pronouns.has(w[s+1].low) {
		t, _, _ := told(w[s:])
		if t == nil {
			t = passive(w[s:])
		}
		if t != nil { // "level probe lead plugged in"
			c.w, c.order = t, true
			return c
		}
	}
	if s+2 < len(w) && people.has(w[s].low) && w[s+1].low == "to" {
		if _, ok := headAt(s+2, w); ok { // "fitter to isolate the pump"
			c.w, c.order = w[s+2:], true
			return c
		}
	}
	if _, ok := headAt(s, w); ok {
		c.w, c.order = append(append([]tok{}, w[s:]...), adverbs(w[:s])...), true
		return c
	}
	if (w[0].low == "and" || w[0].low == "then") && base(w[s].low) != "" && !starters.has(w[s].low) { // "… and blocked up"
		c.w, c.order = rewritten(base(w[s].low), w[s], []tok{{low: sameAgain, print: "it"}}, w[s+1:]), true
		return c
	}
	if t, _, _ := told(w[s:]); t != nil {
		c.w, c.order = t, true
		return c
	}
	if t := happens(w[s:]); t != nil {
		c.w, c.order = t, true
		return c
	}
	c.w = w[s:]
	return c
}

// people are who such notes give the work to.
var people = set("fitter fitters mechanic technician operator electrician engineer supervisor slinger helper apprentice")

// adverbs gives the words of a skipped part that say how the act is done.
func adverbs(w []tok) []tok {
	var all []tok
	for _, t := range w {
		if adverb(t.low) && fillerAt([]tok{t}, 0) == 0 {
			all = append(all, t)
		}
	}
	return all
}

// told turns "the bolts should then be taken out" into the order that it is: "take the bolts out". It is nil when the
// words order nothing.
func told(w []tok) (order []tok, from, to int) {
	for k := 1; k < len(w); k++ {
		n := 0
		switch w[k].low {
		case "should", "must", "shall", "can", "may":
			n = 1
		case "is", "are", "has", "have", "need", "needs", "ought":
			if k+1 < len(w) && w[k+1].low == "to" {
				n = 2
			}
		}
		if w[k].low == "to" && k+1 < len(w) && w[k+1].low == "be" && thingly(w[:k]) {
			n = 1 // "hoses to be disconnected"
		}
		if n == 0 {
			continue
		}
		if no := w[k-1].low; no == "not" || no == "never" || no == "no" || strings.HasSuffix(no, "n't") {
			return nil, 0, 0 // "it does not have to be removed"
		}
		i := k + n
		for i < len(w) && (w[i].low == "then" || w[i].low == "now" || w[i].low == "also" || w[i].low == "always" || adverb(w[i].low)) {
			i++
		}
		if i+1 >= len(w) || w[i].low != "be" {
			continue
		}
		verb := base(w[i+1].low)
		if slices.ContainsFunc(w[i+1:], func(t tok) bool { return t.low == "every" }) && slices.ContainsFunc(w[i+1:], func(t tok) bool {
			return t.q && t.kind == quantity.Time || strings.HasPrefix(t.low, "year") || strings.HasPrefix(t.low, "month")
		}) {
			return nil, 0, 0 // how often, and no order
		}
		if verb == "" || i+2 < len(w) && w[i+2].low == "by" && !strings.HasSuffix(w[i+1].low, "ed") {
			return nil, 0, 0
		}
		return rewritten(verb, w[i+1], w[:k], w[i+2:]), k, i + 2
	}
	return nil, 0, 0
}

func rewritten(verb string, participle tok, subject, rest []tok) []tok {
	out := []tok{{low: verb, print: verb}}
	for i, t := range subject {
		if i == 0 && (marks.has(t.low) || t.low == "all" || t.low == "both" || t.low == "each" || t.low == "new" || t.low == "old") {
			t.print = t.low
		}
		out = append(out, t)
	}
	out[len(out)-1].stop = ""
	if len(rest) == 0 || participle.stop != "" {
		out[len(out)-1].stop = participle.stop
	}
	return append(out, rest...)
}

// sameAgain stands for the things of the act before, in "… and taken off".
const sameAgain = "it again"

var irregular = map[string]string{
	"put": "put", "taken": "take", "undone": "undo", "withdrawn": "withdraw", "shut": "shut", "drawn": "draw", "driven": "drive", "bled": "bleed", "let": "let",
	"thrown": "throw", "worn": "wear", "written": "write", "done": "do", "hung": "hang", "cut": "cut", "set": "set", "run": "run", "swung": "swing", "held": "hold", "slid": "slide", "wound": "wind", "spun": "spin", "slung": "sling",
}

// base gives the verb of a participle that an act may be said with, "" for any other word.
func base(p string) string {
	if v := irregular[p]; v != "" {
		return v
	}
	stem, ok := strings.CutSuffix(p, "ed")
	if !ok || stem == "" {
		return ""
	}
	for _, v := range []string{stem, stem + "e", strings.TrimSuffix(stem, "i") + "y", stem[:len(stem)-1]} {
		if starters.has(v) || plain.has(v) {
			return v
		}
	}
	return ""
}
