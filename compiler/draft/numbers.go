package draft

import (
	"strconv"
	"strings"
)

var small = map[string]int{
	"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
	"thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19, "dozen": 12,
	"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}

func count(text string) tok {
	t := tok{low: text, print: text}
	if n, err := strconv.Atoi(text); err == nil && n > 0 && n < 1000 && text == strconv.Itoa(n) {
		t.num = n
	}
	return t
}

// unitWords turns the units of the spoken word into those of the table. "mil" is how a workshop says millimetre; where
// thousandths are meant the notes say thou.
func unitWords(s string, _ []tok) string {
	f := strings.Fields(s)
	for i := 1; i < len(f); i++ {
		w := strings.ToLower(strings.Trim(f[i], ".,;:!?)"))
		if strings.HasPrefix(w, "newton-met") {
			w, f[i] = "N·m", "N·m"
		}
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
	case parts[next(1)] != "" && small[w] > 0 && (next(2) == "inch" || next(2) == "in" || next(2) == "inches"):
		return strconv.Itoa(small[w]) + "/" + parts[next(1)], 2
	case w == "half" && next(1) == "inch":
		return "1/2", 1
	case w == "quarter" && (next(1) == "turn" || next(1) == "inch"):
		return "1/4", 1
	case w == "a" && (next(1) == "couple" || next(1) == "pair") && next(2) == "of":
		return "2", 3
	case w == "a" && next(1) == "dozen":
		return "12", 2
	case w == "one" && next(1) == "hundred":
	case w == "one" && (!free(1) || noCount.has(next(1)) || i > 0 && notOne.has(in[i-1].low)):
		return "", 0
	}
	return spelt(in, i)
}

// parts are the parts of an inch, as the sizes of keys are said.
var parts = map[string]string{"quarter": "4", "quarters": "4", "eighth": "8", "eighths": "8", "sixteenth": "16", "sixteenths": "16"}

var (
	notOne  = set("new old the this that each every another which a no good other any same")
	noCount = set("of is with and or for to on in at by")
)

// spelt reads a number in words: "thirty-two", "twenty four", "a hundred and ten", "two point five".
func spelt(in []tok, i int) (string, int) {
	free := func(n int) bool { return i+n < len(in) && in[i+n-1].stop == "" }
	v, n := below(in, i)
	hundred := 0
	switch {
	case n == 0 && (in[i].low == "a" || in[i].low == "one") && free(1) && in[i+1].low == "hundred":
		v, n, hundred = 0, 2, 100
	case n > 0 && v < 10 && free(n) && in[i+n].low == "hundred":
		v, n, hundred = 0, n+1, v*100
	case n == 0:
		return "", 0
	}
	if hundred > 0 {
		skip := 0
		if free(n) && in[i+n].low == "and" && free(n+1) {
			skip = 1
		}
		if free(n + skip) {
			if more, m := below(in, i+n+skip); m > 0 {
				v, n = more, n+skip+m
			}
		}
	}
	v += hundred
	if free(n) && in[i+n].low == "point" && free(n+1) && small[in[i+n+1].low] > 0 && small[in[i+n+1].low] < 10 {
		return strconv.Itoa(v) + "." + strconv.Itoa(small[in[i+n+1].low]), n + 2
	}
	return strconv.Itoa(v), n
}

// below reads a number under a hundred in words; n is how many words it takes.
func below(in []tok, i int) (v, n int) {
	tens, ones, hyphen := strings.Cut(in[i].low, "-")
	v = small[tens]
	if v == 0 || tens == "dozen" {
		return 0, 0
	}
	if hyphen {
		o := small[ones]
		if o == 0 || v < 20 || o > 9 {
			return 0, 0
		}
		return v + o, 1
	}
	if i+1 < len(in) && in[i].stop == "" {
		if o := small[in[i+1].low]; v >= 20 && o > 0 && o < 10 {
			return v + o, 2
		}
	}
	return v, 1
}
