package draft

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"refitcard/compiler/quantity"
)

// tok is one word of a sentence, or one figure with its unit, in the spelling of the language.
type tok struct {
	low   string // in lower case; of a figure, as it prints
	print string // as typed; of a figure, in the spelling of the language
	num   int    // a whole number without a unit, 0 when it is none
	q     bool   // a quantity: figure and unit
	kind  quantity.Kind
	limit bool   // of q: a range or a tolerance
	doubt bool   // of q: the unit can't be what was meant, such as "25 lb" for a torque
	stop  string // the marks behind it
	open  string // the marks before it: "(" and quotes
}

// raw cuts a sentence at its spaces and takes the marks off its words.
func raw(s string) []tok {
	var all []tok
	for _, f := range strings.Fields(spaced(s)) {
		from, to := 0, len(f)
		for from < to {
			r, n := utf8.DecodeRuneInString(f[from:])
			if worded(r) || strings.ContainsRune("-−±+&", r) && from+n < to {
				break
			}
			from += n
		}
		for to > from {
			r, n := utf8.DecodeLastRuneInString(f[:to])
			if worded(r) || strings.ContainsRune(`"″`, r) && unicode.IsDigit(rune(f[max(0, to-n-1)])) {
				break
			}
			to -= n
		}
		if low := strings.ToLower(f); low == "rem." || low == "assy." {
			all = append(all, tok{low: low[:len(low)-1], print: f[:len(f)-1]})
			continue
		}
		if full := shorthand[strings.ToLower(strings.TrimRight(f[from:to], "."))]; full != "" {
			all = append(all, tok{low: full, print: full, open: f[:from], stop: strings.TrimPrefix(f[to:], ".")})
			continue
		}
		if from == to {
			if (f == "+" || f == "&") && len(all) > 0 {
				all = append(all, tok{low: "and", print: "and"})
			} else if len(all) > 0 {
				all[len(all)-1].stop += f
			}
			continue
		}
		all = append(all, tok{low: strings.ToLower(strings.ReplaceAll(f[from:to], "’", "'")), print: f[from:to], open: f[:from], stop: f[to:]})
	}
	return all
}

// shorthand is what fitters write for the sake of time. Common practice, no source.
var shorthand = map[string]string{
	"gskt": "gasket", "gskts": "gaskets", "skt": "socket", "skts": "sockets", "wr": "wrench", "tq": "torque", "brg": "bearing", "brgs": "bearings", "cyl": "cylinder",
	"hyd": "hydraulic", "batt": "battery", "alt": "alternator", "w/o": "without",
}

// spaced parts a range mark and an opening bracket from the words that they run into, and writes "w/" out.
func spaced(s string) string {
	s = closeUp().ReplaceAllString(s, "$1")
	s = rangeUp().ReplaceAllString(s, "$1–$2")
	s = footLbs().ReplaceAllString(s, "$1-$2")
	s = timesUp().ReplaceAllString(s, "$1×$2")
	s = strings.NewReplacer("w/ ", "with ", " (", " (", "\u00a0", " ", "\u202f", " ", "+/-", "±", "+/−", "±").Replace(s)
	return s
}

var (
	rangeUp = pattern(`(\d)\s+[-–—]\s+(\d)`)
	closeUp = pattern(`\s*(±|\+/[-−])\s*`)
	footLbs = pattern(`(?i)\b(ft|in)\.[- ]?(lbs?)\b`)
	timesUp = pattern(`\b(M\d{1,2}) ?[×x] ?(\d)`)
)

func worded(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("°%'’", r)
}

// tokens cuts a sentence into words and figures; figures in words are written in digits, and units in their spelling.
func tokens(s string) []tok {
	in := raw(s)
	var out []tok
	for i := 0; i < len(in); {
		if t, n := figure(in, i); n > 0 {
			t.open, t.stop = in[i].open, in[i+n-1].stop
			out = append(out, t)
			i += n
			continue
		}
		out = append(out, in[i])
		i++
	}
	return between(offs(out))
}

// offs puts a count that stands behind its things before them: "screws, 8 off".
func offs(w []tok) []tok {
	for i := 1; i+1 < len(w); i++ {
		if w[i].num == 0 || w[i+1].low != "off" || w[i+1].stop == "" && i+2 < len(w) || !strings.Contains(w[i-1].stop, ",") {
			continue
		}
		from := i - 1
		for from > 0 && w[from].open == "" && !parted(w[from-1].stop) {
			from--
		}
		name := slices.Clone(w[from:i])
		n := w[i]
		n.open, name[0].open = name[0].open, ""
		name[len(name)-1].stop = w[i+1].stop
		w = slices.Concat(w[:from], []tok{n}, name, w[i+2:])
	}
	return w
}

// between writes "between 20 and 30 mm" as the range that it is.
func between(in []tok) []tok {
	var out []tok
	for i := 0; i < len(in); i++ {
		t := in[i]
		if t.low == "between" && i+3 < len(in) && in[i+2].low == "and" && in[i+3].q && in[i+1].stop == "" {
			low := in[i+1].print
			if in[i+1].q {
				low, _, _ = strings.Cut(low, " ")
			}
			if v, p := quantity.Parse(low + ".." + in[i+3].print); p == nil {
				out = append(out, tok{low: low + ".." + in[i+3].print, print: low + ".." + in[i+3].print, q: true, kind: v.Unit.Kind, limit: true, stop: in[i+3].stop, open: t.open})
				i += 3
				continue
			}
		}
		words := bounds[strings.TrimRight(t.low, ".")]
		if w := than[t.low]; w != "" && i > 0 && (in[i-1].low == "is" || in[i-1].low == "be" || in[i-1].low == "stay") {
			words = w
		}
		if words != "" && i+1 < len(in) && in[i+1].q && !in[i+1].limit && !strings.HasPrefix(in[i+1].print, "at ") {
			next := in[i+1]
			next.print, next.low, next.limit = words+" "+next.print, words+" "+next.print, true
			out = append(out, next)
			i++
			continue
		}
		out = append(out, t)
	}
	return out
}

var than = map[string]string{"under": "at most", "below": "at most", "over": "at least", "above": "at least"}

var bounds = map[string]string{"min": "at least", "minimum": "at least", "max": "at most", "maximum": "at most"}

// figure reads a number, in digits or words, with the unit behind it: n is how many words it takes.
func figure(in []tok, i int) (t tok, n int) {
	text, used := number(in, i)
	if used == 0 {
		return tok{}, 0
	}
	if at := strings.IndexByte(text, ','); at > 0 && at+1 < len(text) {
		return tok{low: text, print: text, doubt: true}, used // "22,5": a point, or a thousand?
	}
	rest := text
	last := i + used
	for j := i + used; j < len(in) && j < i+used+5; j++ {
		if in[j-1].stop != "" || in[j].open != "" {
			break
		}
		rest += " " + in[j].print
		last = j + 1
	}
	rest = unitWords(rest, in[last:])
	v, size, p := quantity.LimitPrefix(rest)
	if p != nil || size == 0 {
		if doubtful(rest) {
			return tok{low: text, print: text, doubt: true}, used
		}
		return count(text), used
	}
	if size < len(rest) && rest[size] != ' ' {
		return tok{low: text, print: text, doubt: true}, used // the unit goes on: "newton-inches"
	}
	for _, n := range []quantity.Number{v.Low, v.High, v.Nominal, v.Spread} {
		if n.Rat != nil && v.Form != quantity.Tolerance && !strings.Contains(rest[:size], n.Typed) || v.Form == quantity.Tolerance && !strings.Contains(rest[:size], v.Nominal.Typed) {
			return tok{low: text, print: text, doubt: true}, used // two units: one figure was worked out
		}
	}
	words := len(strings.Fields(rest[:size]))
	base := len(strings.Fields(glued(text)))
	print := written(v)
	return tok{low: print, print: print, q: true, kind: v.Unit.Kind, limit: v.Form == quantity.Range || v.Form == quantity.Tolerance}, used + words - base
}

// written prints a quantity in the spelling of the language, with the figures that were typed.
func written(v quantity.Value) string {
	unit := " " + v.Unit.Name
	if v.Unit.Name == "turn" && v.Form == quantity.Exact && v.Low.Typed != "1" && !strings.Contains(v.Low.Typed, "/") {
		unit += "s"
	}
	if v.Unit.Joined {
		unit = v.Unit.Name
	}
	switch v.Form {
	case quantity.Range:
		return v.Low.Typed + ".." + v.High.Typed + unit
	case quantity.Tolerance:
		return v.Nominal.Typed + " ±" + v.Spread.Typed + unit
	case quantity.AtLeast:
		return "at least " + v.Low.Typed + unit
	case quantity.AtMost:
		return "at most " + v.High.Typed + unit
	}
	return v.Low.Typed + unit
}
