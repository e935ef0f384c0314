package prose

import "strings"

// subjects are words that may open the subject of "the bolts should be tightened".
var subjects = words("the a an its it they this these those all both each every any any your no")

// people are subjects that are told what to do instead of being ordered.
var people = words("you we")

// irregular are participles that no rule makes.
var irregular = map[string]string{
	"put": "put", "set": "set", "shut": "shut", "cut": "cut", "bent": "bend", "driven": "drive", "held": "hold", "kept": "keep", "laid": "lay",
	"hung": "hang", "taken": "take", "undone": "undo", "withdrawn": "withdraw", "worn": "wear", "written": "write", "read": "read", "blown": "blow",
	"ground": "grind", "left": "leave", "brought": "bring", "fed": "feed", "wound": "wind", "unwound": "unwind", "built": "build", "made": "make",
	"sent": "send", "chosen": "choose", "run": "run", "swept": "sweep", "stuck": "stick", "done": "do", "let": "let", "bled": "bleed",
}

// Told finds an order that is worded as a statement: "the bolts should be tightened", "you must tighten the bolts". The
// place is that of the words from the modal to the participle, in bytes; to is 0 when there is none. verb is the act.
func Told(s string) (from, to int, verb string) {
	w := tokens(s)
	if len(w) == 0 {
		return 0, 0, ""
	}
	first := 0
	if conditions[w[0].text] {
		for first < len(w) && !strings.Contains(w[first].after, ",") {
			first++
		}
		first++
	}
	for first < len(w) && openers[w[first].text] {
		first++
	}
	for i := first + 1; i < len(w) && i <= first+8; i++ {
		if sub[w[i-1].text] && i-1 > first || strings.ContainsAny(w[i-1].after, ",:()") || w[i-1].before != "" {
			return 0, 0, ""
		}
		n := modal(w, i)
		if n == 0 {
			continue
		}
		if w[i-1].text == "not" || strings.HasSuffix(w[i-1].text, "n't") || w[i-1].text == "never" {
			return 0, 0, "" // "it does not need to be …" leaves it free
		}
		last, verb := ordered(w, i+n, people[w[i-1].text] && i == first+1)
		if verb == "" || !(subjects[w[first].text] || people[w[first].text] || Masked(w[first].text)) || sub[w[i-1].text] {
			return 0, 0, ""
		}
		return w[i].from, w[last].to, verb
	}
	return 0, 0, ""
}

// modal gives how many words a modal takes: "should", "need to", "are to".
func modal(w []word, i int) int {
	switch w[i].text {
	case "should", "must", "shall":
		return 1
	case "need", "needs", "has", "have", "is", "are", "ought":
		if i+1 < len(w) && w[i+1].text == "to" && w[i].after == "" {
			return 2
		}
	}
	return 0
}

// ordered reads what is to be done behind a modal: "not be tightened", or "tighten" where people are told. last is the
// place of its last word.
func ordered(w []word, i int, told bool) (last int, verb string) {
	skip := func() {
		for i < len(w) && (adverb(w[i].text) || w[i].text == "not" || w[i].text == "then" || w[i].text == "now" || w[i].text == "also" || w[i].text == "always" || w[i].text == "first" || w[i].text == "only") {
			i++
		}
	}
	skip()
	if i < len(w) && told && acts[w[i].text] {
		return i, w[i].text
	}
	if i >= len(w) || w[i].text != "be" {
		return 0, ""
	}
	i++
	skip()
	if i >= len(w) {
		return 0, ""
	}
	verb = base(w[i].text)
	if verb == "" || reading[verb] || i+1 < len(w) && (w[i+1].text == "by" || w[i+1].text == "to" && states[w[i].text]) {
		return 0, "" // it says by whom; or "be set to …" is a state
	}
	return i, verb
}

// states are participles that with "to" may tell how a thing stands.
var states = words("set adjusted left kept held connected fixed secured")

// base gives the verb of an act's participle, "" for any other word.
func base(p string) string {
	if v := irregular[p]; v != "" {
		return v
	}
	stem, ok := strings.CutSuffix(p, "ed")
	if !ok || stem == "" {
		return ""
	}
	for _, v := range []string{stem, stem + "e", strings.TrimSuffix(stem, "i") + "y"} {
		if acts[v] {
			return v
		}
	}
	if n := len(stem); n > 2 && stem[n-1] == stem[n-2] && acts[stem[:n-1]] {
		return stem[:n-1]
	}
	return ""
}

// asking are verbs that "if" follows for "whether".
var asking = words("specify define choose query given check see ask tell find note record decide look watch test verify report know show say listen feel determine confirm inspect try wonder measure ensure tells means mean indicate indicates matter care")

// idioms follow "if" in phrases that are no condition of their own, or are judged elsewhere.
var idioms = words("any so not possible necessary required needed applicable appropriate desired")

// LateCondition finds the condition of an order that comes behind it: "replace it, if worn". The place is that of the
// condition, in bytes; to is 0 when there is none. An act says that the sentence orders something for certain.
func LateCondition(s string, act bool) (from, to int) {
	w := tokens(s)
	at := commanded(w, act)
	if at < 0 {
		return 0, 0
	}
	k := -1
	for i := at + 1; i < len(w); i++ {
		if w[i].text == "if" && w[i].before == "" {
			k = i
			break
		}
	}
	if k < 0 || k+1 >= len(w) || idioms[w[k+1].text] || w[k+1].text == "and" {
		return 0, 0
	}
	for i := at; i < k; i++ {
		if asking[w[i].text] || w[i].text == "or" || strings.ContainsAny(w[i].after, ":()") || sub[w[i].text] || i > at && strings.Contains(w[i].before, "(") {
			return 0, 0
		}
	}
	if trailing(w, at, k) {
		return 0, 0
	}
	if k >= 2 && w[k-2].text == "to" && k-2 > at {
		return 0, 0 // "an action to take if …" is no act of now
	}
	switch w[k-1].text {
	case "even", "only", "as", "what", "and", "or", "but", "then", "not", "whether", "never", "except", "also", "especially", "particularly":
		return 0, 0
	}
	for i := k; i < len(w)-1; i++ {
		if strings.ContainsAny(w[i].after, ",:()") || w[i+1].text == "then" || w[i+1].text == "otherwise" || w[i].text == "by" && strings.HasSuffix(w[i+1].text, "ing") {
			return 0, 0
		}
	}
	return w[k].from, w[len(w)-1].to
}

// trailing tells whether a word stands in a clause such as ", removing burrs": what is said there is not of the order itself.
func trailing(w []word, at, i int) bool {
	for k := i - 1; k > at; k-- {
		if strings.Contains(w[k-1].after, ",") {
			return len(w[k].text) > 4 && strings.HasSuffix(w[k].text, "ing")
		}
	}
	return false
}
