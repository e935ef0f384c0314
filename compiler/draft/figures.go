package draft

import (
	"regexp"
	"slices"
	"strconv"
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

var small = map[string]int{
	"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
	"thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19, "dozen": 12,
	"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
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

// spaced parts a range mark and an opening bracket from the words that they run into, and writes "w/" out.
func spaced(s string) string {
	s = closeUp.ReplaceAllString(s, "$1")
	s = timesUp.ReplaceAllString(s, "$1×$2")
	s = strings.NewReplacer("w/ ", "with ", " (", " (", "\u00a0", " ", "\u202f", " ", "+/-", "±", "+/−", "±").Replace(s)
	return s
}

var (
	closeUp = regexp.MustCompile(`\s*(±|\+/[-−])\s*`)
	timesUp = regexp.MustCompile(`\b(M\d{1,2}) ?[×x] ?(\d)`)
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
		if words := bounds[strings.TrimRight(t.low, ".")]; words != "" && i+1 < len(in) && in[i+1].q && !in[i+1].limit && !strings.HasPrefix(in[i+1].print, "at ") {
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

var bounds = map[string]string{"min": "at least", "minimum": "at least", "max": "at most", "maximum": "at most"}

// figure reads a number, in digits or words, with the unit behind it: n is how many words it takes.
func figure(in []tok, i int) (t tok, n int) {
	text, used := number(in, i)
	if used == 0 {
		return tok{}, 0
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
	words := len(strings.Fields(rest[:size]))
	base := len(strings.Fields(glued(text)))
	print := written(v)
	return tok{low: print, print: print, q: true, kind: v.Unit.Kind, limit: v.Form == quantity.Range || v.Form == quantity.Tolerance}, used + words - base
}

func count(text string) tok {
	t := tok{low: text, print: text}
	if n, err := strconv.Atoi(text); err == nil && n > 0 && n < 1000 {
		t.num = n
	}
	return t
}

// written prints a quantity in the spelling of the language, with the figures that were typed.
func written(v quantity.Value) string {
	unit := " " + v.Unit.Name
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

// unitWords turns the units of the spoken word into those of the table. "mil" is how a workshop says millimetre; where
// thousandths are meant the notes say thou.
func unitWords(s string, _ []tok) string {
	f := strings.Fields(s)
	for i := 1; i < len(f); i++ {
		w := strings.ToLower(strings.Trim(f[i], ".,;:!?)"))
		switch w {
		case "mil", "mils", "mill", "mills", "millimetres", "millimeters":
			f[i] = "mm"
		case "kilos", "kilo":
			f[i] = "kg"
		case "newtons":
			if i+1 < len(f) && strings.HasPrefix(strings.ToLower(f[i+1]), "met") {
				f[i] = "newton"
			}
		case "pounds", "pound":
			if i+1 < len(f) && (strings.EqualFold(f[i+1], "feet") || strings.EqualFold(f[i+1], "foot")) {
				f[i], f[i+1] = "lbf", "ft"
			}
		}
	}
	return glued(strings.Join(f, " "))
}

// glued opens a figure that its unit runs into ("22mil") where the table would read something else.
func glued(s string) string {
	first, rest, _ := strings.Cut(s, " ")
	n := 0
	for n < len(first) && (first[n] >= '0' && first[n] <= '9' || first[n] == '.') {
		n++
	}
	low := strings.ToLower(first[n:])
	if n > 0 {
		switch low {
		case "mil", "mill":
			low = "mm"
		case "nm":
			low = "N·m"
		default:
			return s
		}
		return strings.TrimRight(first[:n]+" "+low+" "+rest, " ")
	}
	return s
}

// doubtful tells whether a figure has a unit that no torque has and that is written for one.
func doubtful(s string) bool {
	f := strings.Fields(s)
	if len(f) < 2 {
		return false
	}
	switch strings.ToLower(f[1]) {
	case "ft/lb", "ft/lbs", "in/lb", "in/lbs", "lb/ft", "lbs/ft", "n/m", "kg/m":
		return true
	}
	return false
}

// number reads a figure in digits or words at i. text has digits, "3/4" or "1.5"; n is how many words it takes.
func number(in []tok, i int) (text string, n int) {
	w := in[i].low
	if c := w[0]; c >= '0' && c <= '9' || (c == '-' || c == '+') && len(w) > 1 && w[1] >= '0' && w[1] <= '9' {
		return in[i].print, 1
	}
	free := func(k int) bool { return i+k < len(in) && in[i+k-1].stop == "" }
	next := func(k int) string {
		if free(k) {
			return in[i+k].low
		}
		return ""
	}
	switch {
	case w == "half" && (next(1) == "a" || next(1) == "an"):
		return "1/2", 2
	case w == "a" && next(1) == "quarter" && next(2) == "of" && (next(3) == "a" || next(3) == "an"):
		return "1/4", 4
	case w == "three" && (next(1) == "quarters" || next(1) == "quarter") && next(2) == "of" && (next(3) == "a" || next(3) == "an"):
		return "3/4", 4
	case w == "quarter" && (next(1) == "turn" || next(1) == "inch"):
		return "1/4", 1
	case w == "a" && (next(1) == "couple" || next(1) == "pair") && next(2) == "of":
		return "2", 3
	case w == "a" && next(1) == "dozen":
		return "12", 2
	case w == "one" && (!free(1) || noCount[next(1)] || i > 0 && notOne[in[i-1].low]):
		return "", 0
	}
	return spelt(in, i)
}

var (
	notOne  = set("new old the this that each every another which a no good other any same")
	noCount = set("of is with and or for to on in at by")
)

// spelt reads "thirty-two", "twenty four", "a hundred and ten" is left to the digits of a person.
func spelt(in []tok, i int) (string, int) {
	tens, ones, hyphen := strings.Cut(in[i].low, "-")
	v, ok := small[tens]
	if !ok || v == 0 || tens == "dozen" {
		return "", 0
	}
	if hyphen {
		o, ok := small[ones]
		if !ok || v < 20 || o > 9 {
			return "", 0
		}
		return strconv.Itoa(v + o), 1
	}
	n := 1
	if i+n < len(in) && in[i+n-1].stop == "" {
		if o, ok := small[in[i+n].low]; ok && v >= 20 && o > 0 && o < 10 {
			v, n = v+o, n+1
		}
	}
	if i+n < len(in) && in[i+n].low == "hundred" && in[i+n-1].stop == "" && v < 10 {
		v, n = v*100, n+1
	}
	if i+n+1 < len(in) && in[i+n].low == "point" && small[in[i+n+1].low] > 0 {
		return strconv.Itoa(v) + "." + strconv.Itoa(small[in[i+n+1].low]), n + 2
	}
	return strconv.Itoa(v), n
}
