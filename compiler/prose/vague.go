package prose

import "strings"

// loose are adverbs that stand for a measure and give none.
var loose = words("properly securely correctly adequately sufficiently appropriately suitably satisfactorily")

// mild are adjectives that stand for the measure of a check and give none.
var mild = words("normal good ok okay acceptable satisfactory adequate sufficient proper")

// readings are things that a check could give limits for: of these "correct" is no measure either.
var readings = words("level pressure temperature gap clearance tension torque alignment adjustment speed voltage current flow play travel height setting gaps levels")

// working are things of which "proper operation" says nothing.
var working = words("operation operating function functioning working fit seating movement action condition performance running order noise vibration sound")

// copulas join a thing to its measure.
var copulas = words("is are be looks look reads read sounds sound seems seem feels feel")

// checks are orders to find out.
var checks = words("check verify ensure confirm see make inspect test look")

// named say where the measure of "as required" stands.
var named = words("by for in to from until under on at so per with")

// turns are words that a clause ends at.
var turns = words("and or before after then but while")

// sub are words that begin a clause inside a sentence: what stands behind them is not the order's own.
var sub = words("that which who whose where because since as although so if when unless while until than whether how what")

// Vague finds the words of an order that stand where its measure should: "clean the face properly", "check the level is
// normal", "as required" with nothing behind it. Where the measure is said as well it finds none. The place is in bytes;
// to is 0 when there is none. An act says that the sentence orders something for certain; checks that it asks to find out.
func Vague(s string, act, check bool) (from, to int) {
	w := tokens(s)
	at := commanded(w, act)
	if at < 0 {
		return 0, 0
	}
	check = check || checks[w[at].text]
	for i := range w {
		n := asRequired(w, i)
		if n > 0 && i > at && (nested(w, at, i, check) || trailing(w, at, i)) {
			n = 0
		}
		if n == 0 && i > at {
			n = looseAt(w, at, i, check)
		}
		if n == 0 && i < at && loose[w[i].text] && i == at-1 && w[i].after == "" {
			n = 1 // "properly seat the ring"
		}
		if n == 0 && check && i > at {
			n = mildAt(w, at, i)
		}
		if n > 0 {
			return w[i].from, w[i+n-1].to
		}
	}
	return 0, 0
}

// asRequired reads "as required", "if necessary" and their like, when nothing behind them says by what.
func asRequired(w []word, i int) int {
	if i+1 >= len(w) {
		return 0
	}
	switch w[i].text {
	case "as", "if", "where", "when":
	default:
		return 0
	}
	switch w[i+1].text {
	case "required", "necessary", "needed":
	case "appropriate":
		if w[i].text != "as" {
			return 0
		}
	default:
		return 0
	}
	if w[i].before != "" || strings.ContainsAny(w[i+1].after, ":()") {
		return 0
	}
	if w[i+1].after == "" && i+2 < len(w) && (named[w[i+2].text] || strings.Contains(w[i+2].before, "(")) {
		return 0
	}
	return 2
}

// looseAt reads an adverb that ends a clause of the order, or that stands with a participle behind "is".
func looseAt(w []word, at, i int, check bool) int {
	if !loose[w[i].text] || i == 0 || nested(w, at, i, check) {
		return 0
	}
	if i+1 < len(w) && w[i].after == "" {
		if copulas[w[i-1].text] && participle(w[i+1].text) && closes(w, i+1) {
			return 2
		}
		if !turns[w[i+1].text] {
			return 0
		}
	}
	if determiners[w[i-1].text] || !closes(w, i) {
		return 0
	}
	return 1
}

// mildAt reads an adjective behind "is", "in good condition", or "normally" at the end of a check.
func mildAt(w []word, at, i int) int {
	if nested(w, at, i, true) {
		return 0
	}
	switch {
	case mild[w[i].text] && copulas[w[i-1].text] && closes(w, i):
		return 1
	case w[i].text == "correct" && copulas[w[i-1].text] && i >= 2 && readings[w[i-2].text] && closes(w, i):
		return 1
	case (mild[w[i].text] || w[i].text == "correct") && i+1 < len(w) && working[w[i+1].text] && (i == at+1 || w[i-1].text == "for" || i == at+2 && w[i-1].text == "the") && closes(w, i+1):
		return 2 // "check for proper operation"
	case w[i].text == "normally" && !determiners[w[i-1].text] && closes(w, i):
		return 1
	case w[i].text == "in" && i+2 < len(w) && w[i+1].text == "good" && closes(w, i+2):
		if x := w[i+2].text; x == "condition" || x == "order" || x == "repair" {
			return 3
		}
	}
	return 0
}

// nested tells whether a word stands in a clause that is not the order's own. The first "that" of a check is: "check that
// it is properly seated".
func nested(w []word, at, i int, check bool) bool {
	for k := at + 1; k < i; k++ {
		if !sub[w[k].text] {
			continue
		}
		first := k == at+1 || k == at+2 && w[at+1].text == "sure"
		if check && first && (w[k].text == "that" || w[k].text == "if" || w[k].text == "whether") {
			continue
		}
		return true
	}
	return false
}

// closes tells whether a clause ends behind a word, with nothing that says more of it.
func closes(w []word, i int) bool {
	after := w[i].after
	if i+1 >= len(w) {
		return !strings.ContainsAny(after, ":(")
	}
	if strings.ContainsAny(after, ":()–—") || strings.Contains(w[i+1].before, "(") {
		return false
	}
	if strings.Contains(after, ",") {
		return w[i+1].text == "then" || w[i+1].text == "and" && i+2 < len(w) && acts[w[i+2].text] || acts[w[i+1].text] && !doubtful[w[i+1].text]
	}
	return after == "" && turns[w[i+1].text] && w[i+1].text != "while"
}

var determiners = words("the a an its their your this that these those any each every no not of with in for to by as too very so how more less")

func participle(w string) bool {
	return strings.HasSuffix(w, "ed") || strings.HasSuffix(w, "en") || w == "set" || w == "shut" || w == "laid" || w == "bent" || w == "cut"
}
