package draft

import (
	"slices"
	"strings"
)

// moving gives what can be said with any verb of motion: with "off" or "out" behind it the thing comes off, with "on" or "in"
// it goes on. The rows of the table go before these. Common practice, no source.
func moving() []spoken {
	var all []spoken
	for _, m := range []struct{ verb, heads, ways string }{
		{"remove", `ease lever twist rock walk wriggle wiggle jiggle work knock bump tap drift drive press punch push slide slip whip pop flick tease prise pry peel
			pull tug draw lift hoist wind spin unwind screw unscrew hook unhook clip unclip roll swing back thread lever rattle break crack strip`, "off out free clear away"},
		{"install", `ease twist rock walk wriggle wiggle jiggle work knock bump tap drift drive press push slide slip pop tease lift hoist spin screw
			hook clip snap roll thread drop lower offer locate seat lay bolt set`, "on onto in into home back over back-on back-in back-onto back-into"},
	} {
		for _, head := range strings.Fields(m.heads) {
			for _, particle := range strings.Fields(m.ways) {
				if m.verb == "install" && head == "lower" && particle != "into" && particle != "over" {
					continue
				}
				words := append([]string{head, "~"}, strings.Split(particle, "-")...)
				all = append(all, spoken{m.verb, strings.Join(words, " "), "", words})
			}
		}
	}
	return all
}

// given are what people give a thing: "give the bore a wipe".
var given = map[string]string{
	"clean": "clean", "wipe": "wipe", "wash": "wash", "rinse": "rinse", "scrape": "scrape", "check": "check", "look": "check", "degrease": "degrease",
	"grease": "grease", "oiling": "oil", "greasing": "grease", "once-over": "check",
}

// plainer says in one verb what people say in several: "give ~ a wipe", "have a look at ~", "get ~ undone". Words that do not
// say it so come back as they are.
func plainer(w []tok) []tok {
	switch {
	case len(w) > 4 && (w[0].low == "have" || w[0].low == "take") && w[1].low == "a" && w[2].low == "look" && (w[3].low == "at" || w[3].low == "for"):
		head := tok{low: "check", print: "check"}
		if w[3].low == "for" {
			return append([]tok{head}, w[3:]...)
		}
		return append([]tok{head}, w[4:]...)
	case len(w) > 3 && w[0].low == "give":
		return gift(w)
	case len(w) > 2 && (w[0].low == "get" || w[0].low == "have"):
		if to := asked(w); to != nil {
			return to
		}
		_, n := objects(w, 1)
		if n > 1 && n < len(w) && w[n-1].stop == "" {
			return got(w, n)
		}
		for k := 2; k < len(w) && w[k-1].stop == ""; k++ { // a name swallows the participle behind it
			if v := base(w[k].low); v != "" && (dynamic.has(w[k].low) || k+1 < len(w) && (home.has(w[k+1].low) || away.has(w[k+1].low))) {
				return rewritten(v, w[k], w[1:k], w[k+1:])
			}
		}
	}
	return w
}

// asked reads "get the electrician to isolate it": it is the act, by that person.
func asked(w []tok) []tok {
	for k := 2; k+1 < len(w) && w[k-1].stop == ""; k++ {
		if w[k].low != "to" {
			continue
		}
		if _, ok := headAt(k+1, w); !ok || !thingly(w[1:k]) {
			return nil
		}
		out := slices.Clone(w[k+1:])
		out = append(out, tok{low: "by", print: "by"})
		return append(out, w[1:k]...)
	}
	return nil
}

func got(w []tok, n int) []tok {
	if v := base(w[n].low); v != "" && (starters.has(v) || plain.has(v)) {
		return rewritten(v, w[n], w[1:n], w[n+1:])
	}
	return w
}

// gift reads "give the faces a good wipe with a rag", and "give both nipples three strokes".
func gift(w []tok) []tok {
	for k := 2; k < len(w); k++ {
		if w[k-1].stop != "" {
			return w
		}
		if w[k].num > 0 && k+1 < len(w) && (strings.HasPrefix(w[k+1].low, "stroke") || strings.HasPrefix(w[k+1].low, "shot") || strings.HasPrefix(w[k+1].low, "pump")) && k > 1 {
			name := w[1:k]
			if strings.HasPrefix(w[k-1].low, "nipple") {
				return rewritten("grease", tok{}, name, append([]tok{}, w[k:]...))
			}
		}
		if w[k].low != "a" && w[k].low != "an" {
			continue
		}
		for j := k + 1; j < len(w) && j < k+4; j++ {
			if v := given[w[j].low]; v != "" && (j+1 == len(w) || w[j].stop != "" || preps.has(w[j+1].low)) {
				return rewritten(v, w[j], w[1:k], w[j+1:])
			}
			if (w[j].low == "coat" || w[j].low == "smear" || w[j].low == "wipe" || w[j].low == "shot") && j+2 < len(w) && w[j+1].low == "of" && (w[j+2].low == "grease" || w[j+2].low == "oil") {
				rest := append([]tok{{low: "with", print: "with"}}, w[j+2:]...)
				return rewritten("grease", tok{}, w[1:k], rest)
			}
		}
		return w
	}
	return w
}
