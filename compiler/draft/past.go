package draft

import "strings"

// Notes may tell what somebody did ("I took the cover off", "Drained the oil") in place of what is to be done. Such notes are
// read as orders, each of their acts told once. A single sentence of that kind among orders is a remark.

// pasts are the forms of the past that no rule gives.
var pasts = map[string]string{
	"took": "take", "put": "put", "drew": "draw", "drove": "drive", "undid": "undo", "slid": "slide", "hung": "hang", "wound": "wind", "unwound": "unwind",
	"spun": "spin", "set": "set", "cut": "cut", "let": "let", "got": "get", "did": "do", "bled": "bleed", "shut": "shut", "held": "hold", "ran": "run",
	"threw": "throw", "wrote": "write", "swung": "swing", "withdrew": "withdraw", "gave": "give", "left": "leave", "stuck": "stick", "split": "split",
	"made": "make", "tore": "tear", "broke": "break", "slung": "sling", "bent": "bend", "fed": "feed", "reset": "reset", "rewound": "rewind",
}

// pastOf gives the order that a word tells of as done, "" for any other word.
func pastOf(word string) string {
	if v := pasts[word]; v != "" {
		return v
	}
	return base(word)
}

// before tells of another time than the job's.
var elsewhen = pattern(`(?i)\b(?:last (?:year|month|week|time)|ago|yesterday|previous(?:ly)?|already|used to|never)\b`)

var tellers = set("i we he she they")

// narrated tells whether notes say what was done: at least three sentences do, and fewer order something.
func narrated(all []said) bool {
	told, ordered := 0, 0
	for _, s := range all {
		w := tokens(s.text)
		i := skipFillers(w, 0)
		if s.head || i >= len(w) || elsewhen().MatchString(s.text) {
			continue
		}
		switch _, order := headAt(i, w); {
		case doneAt(w, i, true) > 0:
			told++
		case order:
			ordered++
		}
	}
	return told >= 3 && told > ordered
}

// doneAt tells whether what was done begins at i: how many words stand before the order that it is, and that one; 0 for none.
// opens tells that a sentence opens there: "closed end leading" behind a comma is none.
func doneAt(w []tok, i int, opens bool) int {
	n := 0
	if tellers.has(w[i].low) && w[i].stop == "" {
		n++
		for i+n < len(w) && (adverb(w[i+n].low) || w[i+n].low == "then" || w[i+n].low == "also" || w[i+n].low == "just") {
			n++
		}
		if i+n+2 < len(w) && w[i+n].low == "had" && w[i+n+1].low == "to" {
			n += 2
			if _, ok := headAt(i+n, w); ok {
				return n + 1
			}
		}
		if i+n < len(w) && pastOf(w[i+n].low) != "" {
			return n + 1
		}
		return 0
	}
	v := pastOf(w[i].low)
	if v == "" || i+1 >= len(w) || w[i].stop != "" || v == w[i].low && !marks.has(w[i+1].low) && w[i+1].low != "new" {
		return 0
	}
	switch next := w[i+1]; {
	case opening.has(next.low), marks.has(next.low), next.num > 0, next.q, preps.has(next.low), halts.has(next.low):
		return 1
	case opens && starters.has(v):
		return 1
	}
	return 0
}

// ordered turns what was done into the orders that it was: at the start of a sentence, behind a mark, and behind "and".
func ordered(w []tok) []tok {
	out := make([]tok, 0, len(w))
	fresh := true
	for i := 0; i < len(w); i++ {
		if !fresh && tellers.has(w[i].low) && len(out) > 0 && doneAt(w, i, false) > 1 { // "… so I refitted it"
			last := &out[len(out)-1]
			last.stop, fresh = last.stop+",", true
		}
		if n := 0; fresh {
			if n = doneAt(w, i, i == 0 || strings.Contains(w[i-1].stop, ":")); n > 0 && fillerAt(w, i) == 0 {
				v := w[i+n-1]
				if p := pastOf(v.low); p != "" {
					v.low, v.print = p, p
				}
				v.open = w[i].open
				out = append(out, v)
				i += n - 1
				fresh = false
				continue
			}
		}
		out = append(out, w[i])
		fresh = parted(w[i].stop) || fresh && fillerAt(w, i) > 0 || w[i].low == "and" || w[i].low == "then" || w[i].low == "next" || w[i].low == "so" && strings.Contains(w[i].stop, ",")
	}
	return out
}
