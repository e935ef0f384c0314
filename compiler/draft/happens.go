package draft

import "slices"

// Some people order by saying what happens: "the bonnet is lifted off", "the cover comes off", "lead plugged in".

// dynamic are participles that say what is done, never how a thing is.
var dynamic = set(`removed loosened slackened unscrewed undone unbolted withdrawn taken lifted dismantled dismounted cleaned wiped scraped degreased greased lubricated oiled
	torqued retorqued tightened retightened refitted reinstalled replaced renewed changed pulled drawn pushed pressed drained refilled topped emptied measured checked
	inspected examined discarded disposed scrapped binned chucked raised lowered jacked disconnected reconnected unplugged noted recorded unhooked
	slid slipped screwed tapped knocked driven prised pried peeled eased hoisted bled vented swapped`)

// ways out and in, as the words behind such a verb say them.
var (
	away = set("off out away clear free")
	home = set("on onto in into back over home")
)

// moves are verbs that a thing does itself as it comes off or goes on.
var (
	leaves  = set("come comes lift lifts slide slides drop drops pull pulls spin spins unscrew unscrews screw screws pop pops slip slips fall falls draw draws unhook unhooks")
	arrives = set("go goes slide slides drop drops push pushes screw screws slip slips pop pops fit fits")
)

// modal words stand between a thing and what happens to it.
var modal = set("wants want has have needs need to should will can must just then now simply also always all both only may ought")

// happens turns what is said to happen to a thing into the order that it is; nil when nothing does.
func happens(w []tok) []tok {
	if w := passive(w); w != nil {
		return w
	}
	return comes(w)
}

// passive reads "the nuts are loosened crosswise" and, as a list says it, "lead plugged in".
func passive(w []tok) []tok {
	for k := 1; k < len(w); k++ {
		if w[k-1].stop != "" {
			return nil
		}
		i, helped := k, false
		switch w[k].low {
		case "is", "are", "gets", "get":
			i, helped = k+1, true
		}
		for helped && i < len(w) && (w[i].low == "then" || w[i].low == "now" || w[i].low == "also" || w[i].low == "always" || adverb(w[i].low)) {
			i++
		}
		if i >= len(w) {
			return nil
		}
		verb := base(w[i].low)
		if verb == "" || w[i].low == verb && !helped {
			continue
		}
		last := i+1 == len(w) || w[i].stop != ""
		moved := !last && (away.has(w[i+1].low) || home.has(w[i+1].low)) && starters.has(verb)
		if !moved && !dynamic.has(w[i].low) || !helped && !last && !preps.has(w[i+1].low) && !halts.has(w[i+1].low) && !w[i+1].q {
			continue
		}
		if !thingly(w[:k]) || !last && w[i+1].low == "by" {
			return nil
		}
		return rewritten(verb, w[i], w[:k], w[i+1:])
	}
	return nil
}

// comes reads "the handwheel lifts away", "that has to come off", "the gasket goes back on".
func comes(w []tok) []tok {
	for k := 1; k < len(w); k++ {
		if w[k-1].stop != "" {
			return nil
		}
		if k+1 >= len(w) || w[k].stop != "" {
			continue
		}
		verb, i := "", k+1
		if w[i].low == "right" || w[i].low == "straight" {
			i++
		}
		switch {
		case i >= len(w):
		case leaves.has(w[k].low) && away.has(w[i].low):
			verb = "remove"
		case arrives.has(w[k].low) && home.has(w[i].low) && (w[i].low != "on" && w[i].low != "in" || w[i].stop != "" || i+1 == len(w) || marks.has(w[i+1].low)):
			verb = "install"
		}
		if verb == "" {
			continue
		}
		to := k
		for to > 0 && (modal.has(w[to-1].low) || adverb(w[to-1].low)) {
			to--
		}
		if to == 0 || !thingly(w[:to]) || loose(w[to-1].low) {
			return nil
		}
		rest := w[i:]
		if away.has(w[i].low) || w[i].low == "back" || w[i].stop != "" || i+1 == len(w) {
			rest = w[i+1:]
		}
		out := rewritten(verb, tok{stop: w[i].stop}, w[:to], rest)
		return out
	}
	return nil
}

// thingly tells whether words can only be the name of a thing, or a pronoun.
func thingly(w []tok) bool {
	if len(w) == 1 && pronouns.has(w[0].low) {
		return w[0].low != "this" && w[0].low != "one"
	}
	for i, t := range w {
		if (preps.has(t.low) && t.low != "of" && t.low != "with") || t.q && t.kind != 0 && i > 0 || pronouns.has(t.low) && t.low != "that" && t.low != "these" && t.low != "those" || conditional.has(t.low) {
			return false
		}
		switch t.low {
		case "not", "no", "never", "which", "who", "nothing", "it's", "is", "are", "was", "were", "be", "you", "i", "we", "don't", "doesn't":
			return false
		}
	}
	return true
}

// loose are things that come and go by themselves.
func loose(word string) bool {
	return supplies.has(word) || slices.Contains([]string{"air", "dirt", "weed", "bubbles", "dust", "sludge", "pressure", "power", "steam", "smoke", "light", "lamp", "alarm"}, word)
}
