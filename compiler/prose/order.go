package prose

import "strings"

// acts are verbs that an order to a workshop, or to a reader of instructions, opens with. Common practice, no source.
var acts = words(`remove install fit refit replace discard loosen slacken tighten torque snug disconnect connect reconnect open close shut
	raise lower drain fill refill isolate unlock restore relieve support release cap uncap insert withdraw mark align start lubricate clean
	bleed lift measure record check verify tell wear wipe grease oil wash rinse dry press push pull turn rotate move hold keep lock secure
	fasten unscrew undo inspect test adjust set reset cut bend hammer drive tap apply use wrap tie sling hang lay place put mount attach
	detach assemble dismantle strip renew repair store stop switch soak blow flush top prime purge vent seal coat paint polish grind file
	drill trim shim centre level swap write read note sign label tag cover protect block chock wedge wait stand take bring carry make see
	ensure confirm look listen feel watch run walk go give get let leave work bolt clamp pin screw pour pump pack spray brush scrape
	sand heat cool slide slip spin swing tilt unhook hook unplug plug unwind wind fold knock drop shake stir mix add dip dab call ask report
	enter select choose click type copy create delete edit download compile build configure update upgrade enable disable specify define
	change save load send provide include avoid consider remember refer follow repeat return continue proceed count weigh sort try tuck seat position engage disengage unbolt stretch straighten
	feed thread route guide grip squeeze ease pry lever tow winch hoist jack rig unload stack sweep empty dispose collect gather mask tape`)

// doubtful are orders that are nouns or adjectives as well: "drain plugs", "check valves", "cover the pit". Without a word
// behind them that only follows a verb they order nothing for sure.
var doubtful = words(`drain fill cover seal check lock cap support release mark lift clamp hammer oil grease tap file fit open close lower torque
	start insert test set cut bend drive press push pull turn hold level block coat paint store switch top dry pump pack spray brush
	screw pin bolt wedge vent label tag note sign shim blow strip plug hook wind fold drop mix dip call report type copy edit build
	update change save load work stand walk run guide grip lever winch hoist jack rig stack sand heat cool slide slip spin swing tilt
	feed thread route look watch wash use place mount wrap tape mask sort count clean empty secure shut process try seat position stretch
	return repeat select program provide display refer center wait let tow sling prime record leave read add stop feel group move
	apply measure`)

// follows are words that stand behind a verb and not behind a noun that opens a sentence.
var follows = words(`the a an its it them this that these those all both each every any no your their his her one two three four five six
	seven eight nine ten eleven twelve until for with by new old other whether if how only just at least out off up down back away again
	everything nothing something either sure correct proper`)

// reading are orders to the reader's mind: nothing is done.
var reading = words("note remember consider assume see refer read recall suppose imagine notice")

// openers are words that may stand before the order of a sentence.
var openers = words("then now next finally first last again also please and so but second third lastly afterwards otherwise or")

// conditions are words that a clause before the order begins with.
var conditions = words(`if when once after before while until with without unless where whenever to for on in at by from as during
	since because although depending under having using should`)

// commanded is the place of the verb that a sentence orders something with, -1 when it orders nothing for sure or forbids. An
// act says that it orders something for certain: then its first word stands for the verb, where none is found.
func commanded(w []word, act bool) int {
	at, denied := order(w)
	if denied {
		return -1
	}
	if at < 0 && act {
		return 0
	}
	return at
}

// order finds the verb of the order that a sentence is for sure: its place among the words, -1 when it orders nothing for
// sure. denied tells that it forbids.
func order(w []word) (at int, denied bool) {
	i := 0
	for i < len(w) && (openers[w[i].text] || adverb(w[i].text)) {
		i++
	}
	if i < len(w) && conditions[w[i].text] {
		for i < len(w) && !strings.ContainsAny(w[i].after, ",") {
			i++
		}
		i++ // behind the comma
		for i < len(w) && (openers[w[i].text] || adverb(w[i].text)) {
			i++
		}
	}
	if i >= len(w) {
		return -1, false
	}
	switch w[i].text {
	case "do":
		if i+2 < len(w) && w[i+1].text == "not" {
			return i + 2, true
		}
		return -1, false
	case "don't", "never":
		if i+1 < len(w) && acts[w[i+1].text] {
			return i + 1, true
		}
		return -1, false
	case "always":
		i++
	}
	if i >= len(w) || !acts[w[i].text] || i > 0 && strings.ContainsAny(w[i-1].after, ":") {
		return -1, false
	}
	if i+1 < len(w) && (finite[w[i+1].text] || w[i].after != "") || reading[w[i].text] && !(w[i].text == "see" && i+1 < len(w) && w[i+1].text == "that") {
		return -1, false
	}
	if i+1 < len(w) && w[i+1].text == "by" && irregular[w[i].text] == w[i].text {
		return -1, false // "set by the maker"
	}
	if doubtful[w[i].text] && !verbal(w[i+1:]) {
		return -1, false
	}
	return i, false
}

// verbal tells whether words only follow a verb, and not a noun that opens a sentence ("level 0 prints nothing").
func verbal(w []word) bool {
	if len(w) == 0 {
		return false
	}
	if figure(w[0].text) {
		return len(w) > 1 && Masked(w[1].text)
	}
	return follows[w[0].text] || adverb(w[0].text) || Masked(w[0].text)
}

// Order gives the verb of a sentence that is an order for sure, in lower case; "" for any other.
func Order(s string) string {
	w := tokens(s)
	if i, _ := order(w); i >= 0 {
		return w[i].text
	}
	return ""
}

func adverb(w string) bool {
	return len(w) > 4 && strings.HasSuffix(w, "ly") && w != "apply" && w != "supply" && w != "assembly" && w != "reply" && w != "only" && w != "imply"
}

func figure(w string) bool { return w != "" && '0' <= w[0] && w[0] <= '9' }

// MaskByte is what Mask writes.
const MaskByte = 'x'

// Mask writes a name that must count as one noun, whatever words it is made of, in n bytes.
func Mask(n int) string { return strings.Repeat(string(MaskByte), n) }

// Masked tells whether a word was written by Mask.
func Masked(w string) bool { return len(w) > 1 && strings.Trim(w, "x") == "" }
