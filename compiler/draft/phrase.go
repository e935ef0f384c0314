package draft

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
)

// object is a thing as a clause speaks of it.
type object struct {
	name    string // singular, as the notes spell it; empty for a pronoun
	pron    string // it, them …
	count   int    // 0 when none was said
	both    bool
	rest    bool // "the other two", "the remaining four"
	all     bool
	some    bool // "four of the bolts"
	of      int  // "two of the four bolts": four
	each    bool // "two from each anode"
	isNew   bool
	old     bool
	one     bool // a singular with an article: there is one
	plural  bool
	spec    []string
	thing   *thing
	pronOne bool
	prefix  string // "24 V" of a thing that nobody declares
}

// thing is a part or a supply that the notes speak of.
type thing struct {
	name   string
	qty    int
	plural bool
	each   bool
	rest   bool
	spec   []string
	use    string
	torque []string
	supply bool
	amount []string
	off    bool
	used   int // when it was last spoken of
}

// tool is one bullet of the tools.
type tool struct {
	name   string
	detail []string
	used   bool
}

var (
	pronouns = set("it them em those these they this one ones that")
	marks    = set("the a an its it's your their this these those that my his her our any some")
	preps    = set("in on from to at by with of through over under for against into onto until using without between near behind around round above below beside per via onto along across inside outside before after when while where if unless as so that which who than than")
	halts    = set("either right straight once twice half while as again first last back up down out off away together crosswise hand-tight finger-tight anticlockwise clockwise then or is are was were gets get takes take should must shall can may will has have goes go diagonally criss-cross crisscross loose tight snug shut closed opened open clear still there here too please but plus every underneath free you you're we we're i it's that's they're")
	keeping  = set("securing holding retaining fixing fastening")
	threaded = pattern(`^(?:M\d{1,2}(?:[×x]\d+(?:\.\d+)?){0,2}|\d{1,2}/\d{1,2}-\d{1,2}|#\d{1,2}-\d{2})$`)
)

// phrase reads one thing at i: its marks, count and name. next is behind it.
func phrase(w []tok, i int) (o object, next int) {
	named := false
	var words []string
	for ; i < len(w); i++ {
		t := w[i]
		if len(words) == 0 && !named {
			if done := o.mark(w, i); done > 0 {
				i += done - 1
				if w[i].stop != "" {
					return o, i + 1
				}
				continue
			}
			if t.low == sameAgain {
				o.pron = sameAgain
				return o, i + 1
			}
			if (t.low == "it" || t.low == "them" || t.low == "em" || t.low == "they") && !o.isNew {
				o.pron = t.low
				return o, i + 1
			}
			if pronouns.has(t.low) && (i+1 >= len(w) || t.stop != "" || preps.has(w[i+1].low) || halts.has(w[i+1].low) || adverb(w[i+1].low) || w[i+1].q) {
				o.pron, o.pronOne = t.low, t.low == "one"
				return o, i + 1
			}
		}
		if len(words) > 0 && t.open != "" || preps.has(t.low) || halts.has(t.low) && len(words) > 0 || t.low == "and" || adverb(t.low) {
			break
		}
		if len(words) > 0 && marks.has(t.low) || (t.low == "hand" || t.low == "finger") && i+1 < len(w) && w[i+1].low == "tight" {
			break
		}
		if t.num > 0 && len(words) > 0 && t.open == "" && (t.stop != "" || i+1 == len(w) || preps.has(w[i+1].low) || halts.has(w[i+1].low) || w[i+1].low == "and") {
			words = append(words, t.print) // "pump 3"
			i++
			break
		}
		if len(words) > 0 && keeping.has(t.low) && i+1 < len(w) && marks.has(w[i+1].low) {
			break // "ten nuts securing the volute"
		}
		if len(words) > 0 && threaded().MatchString(t.print) && t.open == "" { // "the four nuts M10"
			o.spec = append(o.spec, strings.ReplaceAll(t.print, "x", "×"))
			i++
			break
		}
		if t.q || t.num > 0 || t.doubt {
			break
		}
		words, named = append(words, t.print), true
		if t.stop != "" {
			i++
			break
		}
	}
	o.setName(words)
	return o, i
}

// mark reads what may stand before a name; it gives how many words it took.
func (o *object) mark(w []tok, i int) int {
	t := w[i]
	switch {
	case t.low == "that" && i+1 < len(w) && pronouns.has(w[i+1].low):
		return 0
	case pronouns.has(t.low) && t.low != "that" && t.low != "this" && t.low != "those" && t.low != "these" || t.stop != "" && !t.q && t.num == 0:
		return 0
	case marks.has(t.low) && i+1 < len(w) && !preps.has(w[i+1].low) && (!halts.has(w[i+1].low) || w[i+1].low == "last" || w[i+1].low == "first"):
		o.one = o.one || t.low != "some" && t.low != "any"
		return 1
	case t.low == "pair" && i+1 < len(w) && w[i+1].low == "of" && o.count == 0:
		o.count = 2
		return 2
	case (t.low == "set" || t.low == "lot") && i+1 < len(w) && w[i+1].low == "of":
		return 2
	case t.low == "both":
		o.both, o.count = true, 2
		return 1
	case t.low == "all" || t.low == "every":
		o.all = true
		return 1
	case t.low == "each":
		o.each = true
		return 1
	case t.low == "other" || t.low == "remaining":
		o.rest = true
		return 1
	case t.low == "new":
		o.isNew = true
		return 1
	case t.low == "old":
		o.old = true
		return 1
	case t.low == "of" && (o.count > 0 || o.all || o.each || o.both):
		o.some = o.count > 0 && !o.all && !o.both
		return 1
	case t.low == "off" && o.count > 0, t.low == "x" && o.count > 0, t.low == "ea" && o.count > 0:
		return 1
	case t.num > 0 && o.count == 0:
		o.count = t.num
		return 1
	case t.q && (t.kind == quantity.Voltage || t.kind == quantity.Power || t.kind == quantity.Current) && t.stop == "" && i+1 < len(w):
		o.prefix = t.print + " "
		return 1
	case t.num > 0 && o.some && o.of == 0:
		o.of = t.num
		return 1
	case threaded().MatchString(t.print):
		o.spec = append(o.spec, strings.ReplaceAll(t.print, "x", "×"))
		return 1
	case t.q && t.kind == quantity.Length && i+1 < len(w) && t.stop == "":
		o.spec = append(o.spec, t.print)
		return 1
	}
	return 0
}

func (o *object) setName(words []string) {
	if len(words) == 0 {
		return
	}
	name := strings.Join(words, " ")
	for i, r := range words[0] {
		if r >= 'A' && r <= 'Z' && i == 0 && len(words[0]) > 2 && words[0][1] != '-' && strings.ToLower(words[0][1:]) == words[0][1:] {
			name = strings.ToLower(name[:1]) + name[1:]
		}
	}
	one := singular(name)
	o.plural = one != name
	o.name = one
	if o.plural {
		o.one = false
	}
}

// singular gives the singular of a name, the name itself where it is none already.
func singular(name string) string {
	head, tail := name, ""
	if i := strings.Index(name, " of "); i > 0 {
		head, tail = name[:i], name[i:]
	}
	cut := strings.LastIndexAny(head, " -") + 1
	w := head[cut:]
	low := strings.ToLower(w)
	if low == "teeth" {
		return head[:cut] + "tooth" + tail
	}
	if len(w) < 4 || strings.HasSuffix(low, "ss") || uncounted.has(low) {
		return name
	}
	if strings.HasSuffix(low, "ies") && len(w) > 5 {
		return head[:cut] + w[:len(w)-3] + "y" + tail // "batteries"
	}
	for _, c := range []string{strings.TrimSuffix(w, "s"), strings.TrimSuffix(w, "es"), strings.TrimSuffix(w, "ies") + "y", strings.TrimSuffix(w, "ves") + "f", strings.TrimSuffix(w, "ves") + "fe"} {
		if c != w && len(c) > 1 && strings.EqualFold(procedure.Plural(c), w) {
			return head[:cut] + c + tail
		}
	}
	return name
}

var uncounted = set("glasses chassis pliers means goggles gas brass boss glass bus lens scoring leaks grips gloves grass windings bearings-")

// objects reads a list of things at i, joined by commas or "and".
func objects(w []tok, i int) (list []object, next int) {
	for i < len(w) {
		o, n := phrase(w, i)
		if n == i || o.name == "" && o.pron == "" {
			return list, i
		}
		list = append(list, o)
		i = n
		if i >= len(w) {
			return list, i
		}
		stop := w[i-1].stop
		if stop == "" && w[i].low == "and" && i+1 < len(w) && !preps.has(w[i+1].low) && !halts.has(w[i+1].low) && w[i].stop == "" {
			i++
			continue
		}
		return list, i
	}
	return list, i
}
