package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// objects reads the objects of a tag's body.
type objects struct {
	r    *resolver
	raw  syntax.Raw
	t    []token
	act  *procedure.Act
	fits kinds
	any  bool // things that nobody declares are taken too
	kind string
}

// read takes objects from token i on and gives the token behind them.
func (o *objects) read(i int) int {
	for i < len(o.t) {
		next, ok := o.object(i)
		if !ok {
			o.act.Broken = true
			return len(o.t)
		}
		i = next
		sep, bare := o.separator(i)
		if sep == i {
			return i
		}
		if bare && !o.goesOn(sep) {
			if o.meantName(sep) {
				o.act.Broken = true
				return len(o.t)
			}
			return i
		}
		i = sep
	}
	return i
}

// separator gives the token behind ",", "and", "then" or their pairs; bare tells that it is a comma alone.
func (o *objects) separator(i int) (next int, bare bool) {
	if i >= len(o.t) {
		return i, false
	}
	word := func(k int) bool { return k < len(o.t) && (o.t[k].text == "and" || o.t[k].text == "then") }
	switch {
	case o.t[i].text == ",":
		if word(i + 1) {
			return i + 2, false
		}
		return i + 1, true
	case o.act.Verb.Takes == verb.Torque && o.t[i].text == "then":
		return i, false // "then 90°" is no further object
	case word(i):
		return i + 1, false
	}
	return i, false
}

// goesOn tells whether an object follows a bare comma: else the words are detail.
func (o *objects) goesOn(i int) bool {
	k := i
	for k < len(o.t) {
		if _, n := o.r.names.match(o.t, k, o.fits); n > 0 {
			return true
		}
		if !mark(o.t[k].text) {
			break
		}
		k++
	}
	return o.any && k < len(o.t) && !o.t[k].punct && !boundary(o.t, k, true) && !wordOfDetail(o.t[k].text)
}

// wordOfDetail tells whether a word opens a remark behind a comma, never a thing.
func wordOfDetail(w string) bool {
	switch w {
	case "else", "if", "then", "when", "and", "or", "not", "but", "finger", "hand", "still", "once", "after", "before", "without",
		"within", "keeping", "one":
		return true
	}
	return false
}

// meantName reports words behind a bare comma that are nearly a declared name.
func (o *objects) meantName(i int) bool {
	start := i
	for i < len(o.t) && mark(o.t[i].text) {
		i++
	}
	end := o.phraseEnd(i)
	if end == i {
		return false
	}
	phrase := o.raw.Text[o.t[i].start:o.t[end-1].end]
	for _, n := range o.declared() {
		for _, form := range []string{n, procedure.Plural(n)} {
			if d := len(form) - len(phrase); d <= 2 && d >= -2 && verb.Near(phrase, []string{form}) != "" && len(phrase) > 3 {
				o.unknown(start, end, "")
				return true
			}
		}
	}
	return false
}

func (o *objects) declared() []string {
	if o.kind == "supply" {
		return o.r.names.typed(isSupply)
	}
	return o.r.names.typed(isPart)
}

func mark(w string) bool {
	switch w {
	case "the", "a", "an", "its", "new", "old", "all", "both", "each", "every", "other", "remaining", "of":
		return true
	}
	_, ok := countOf(w)
	return ok
}

// object reads marks and a name. ok is false when none stands there; the fault is recorded.
func (o *objects) object(i int) (next int, ok bool) {
	x := procedure.Object{}
	start := i
	for i < len(o.t) {
		if e, n := o.r.names.match(o.t, i, o.fits); n > 0 && o.ends(i+n) {
			o.finish(&x, e, start, i, i+n)
			return i + n, true
		}
		if !mark(o.t[i].text) {
			break
		}
		o.mark(&x, i)
		i++
	}
	if o.any {
		if end := o.phraseEnd(i); end > i {
			o.free(&x, start, i, end)
			return end, true
		}
	}
	end := max(o.phraseEnd(i), min(i+1, len(o.t)))
	o.unknown(start, end, "")
	return end, false
}

// ends tells whether a declared name may end before token i: so that "cover plate" is never the declared "cover".
func (o *objects) ends(i int) bool {
	if i >= len(o.t) || o.t[i].punct || o.t[i].text == "and" || boundary(o.t, i, false) {
		return true
	}
	return !o.any && isDigit(o.t[i].text[0])
}

// phraseEnd gives the token behind the words up to a boundary, punctuation, a separator or a number.
func (o *objects) phraseEnd(i int) int {
	first := i
	hyphened := func(i int) bool { return i > first && o.t[i].start > 0 && o.raw.Text[o.t[i].start-1] == '-' } // "hold-down" is one word
	for i < len(o.t) && !o.t[i].punct && o.t[i].text != "and" && (hyphened(i) || !boundary(o.t, i, i == first)) {
		if isDigit(o.t[i].text[0]) && i > first {
			break
		}
		i++
	}
	return i
}

// mark takes an article, a count or another word before the name.
func (o *objects) mark(x *procedure.Object, i int) {
	at := o.raw.At(o.t[i].start, o.t[i].end)
	switch w := o.t[i].text; w {
	case "the", "its", "of":
	case "a", "an":
		x.Article = true
		if x.Count == procedure.Bare {
			counted(x, procedure.Numbered, 1, at)
		}
	case "new":
		x.New = true
	case "old":
		x.Old = true
	case "both":
		counted(x, procedure.Numbered, 2, at)
	case "all", "each", "every":
		if x.Count == procedure.Bare {
			counted(x, procedure.All, 0, at)
		}
	case "other", "remaining":
		if x.Count == procedure.Numbered { // "the remaining 2": the figure stands
			return
		}
		counted(x, procedure.Remaining, 0, at)
	default:
		n, _ := countOf(w)
		if x.Count == procedure.Numbered && i > 0 && o.of(i) {
			x.Of = n
			return
		}
		counted(x, procedure.Numbered, n, at)
	}
}

func counted(x *procedure.Object, kind procedure.CountKind, n int, at source.Span) {
	if x.CountAt.Known() {
		at = x.CountAt.To(at)
	}
	x.CountAt, x.Count, x.N = at, kind, n
}

// of tells whether "of", perhaps with an article, stands before token i: "3 of the 4".
func (o *objects) of(i int) bool {
	for k := i - 1; k > 0; k-- {
		if o.t[k].text == "of" {
			return true
		}
		if !mark(o.t[k].text) || isDigit(o.t[k].text[0]) {
			return false
		}
	}
	return false
}

func (o *objects) finish(x *procedure.Object, e *entry, start, name, end int) {
	x.At = o.raw.At(o.t[start].start, o.t[end-1].end)
	x.NameAt = o.raw.At(o.t[name].start, o.t[end-1].end)
	x.Typed = o.raw.Text[o.t[name].start:o.t[end-1].end]
	x.Part, x.Supply, x.Tool, x.Plural = e.part, e.supply, e.tool, e.plural
	switch {
	case e.part != nil:
		x.Name = e.name.folded
	case e.supply != nil:
		x.Name = e.name.folded
	case e.tool != nil:
		x.Name = procedure.Fold(x.Typed)
	}
	if e.part != nil && !o.counts(x, e.part) {
		o.act.Broken = true
	}
	o.act.Objects = append(o.act.Objects, *x)
}

func (o *objects) free(x *procedure.Object, start, name, end int) {
	x.At = o.raw.At(o.t[start].start, o.t[end-1].end)
	x.NameAt = o.raw.At(o.t[name].start, o.t[end-1].end)
	x.Typed = o.raw.Text[o.t[name].start:o.t[end-1].end]
	x.Name = singular(procedure.Fold(x.Typed))
	o.act.Objects = append(o.act.Objects, *x)
}

// counts holds a count against the table; false when a fault was recorded that spoils the act.
func (o *objects) counts(x *procedure.Object, p *procedure.Part) bool {
	if o.r.spoilt[p] {
		return true
	}
	strict := !o.any && o.act.Verb.Effect != verb.Speak
	qty := p.Qty
	for _, t := range p.Twins {
		qty = max(qty, t.Qty)
	}
	switch {
	case x.Of > 0 && x.Of != qty:
		f := o.r.fault("part/too-many", x.At, p.Name.Value, "of")
		f.Counts, f.Thing = []int{x.Of, qty, qty}, p.Name.Value
		return false
	case x.Count == procedure.Numbered && x.N > qty:
		f := o.r.fault("part/too-many", x.At, p.Name.Value, "")
		f.Counts, f.Thing, f.Related = []int{x.N, qty, qty}, p.Name.Value, related(p.At, "declared")
		return false
	case strict && x.Count == procedure.Bare && !x.Plural && qty > 1 && procedure.Fold(procedure.Plural(p.Name.Value)) != x.Name:
		f := o.r.fault("part/singular", x.At, x.Typed, procedure.Plural(p.Name.Value))
		f.Counts, f.Thing, f.Related = []int{qty}, p.Name.Value, related(p.At, "declared")
		return false
	case strict && x.Count == procedure.Bare && x.Plural && p.Fastener() && qty > 1:
		f := o.r.fault("part/no-count", x.NameAt, x.Typed)
		f.Counts, f.Thing = []int{qty}, p.Name.Value
	}
	return true
}

// unknown reports a phrase that is no declared name.
func (o *objects) unknown(start, end int, reason string) {
	if start >= len(o.t) {
		at := o.raw.At(len(o.raw.Text), len(o.raw.Text))
		if !at.Known() || at.Start == at.End {
			at = o.act.At
		}
		o.r.fault("part/unknown", at, "", "", o.kind, reason)
		return
	}
	name := start
	for name < end-1 && mark(o.t[name].text) {
		name++
	}
	phrase := o.raw.Text[o.t[name].start:o.t[end-1].end]
	offer := ""
	if o.r.strange++; o.r.strange <= mostOffers {
		offer = near(phrase, o.declared())
	}
	if v, _ := o.r.verbs.Longest(phrase); v != nil && reason == "" && start > 0 && name == start && offer == "" {
		reason = "verb"
	}
	o.r.fault("part/unknown", o.raw.At(o.t[name].start, o.t[end-1].end), phrase, offer, o.kind, reason)
}

// mostOffers is for how many unknown names of one procedure a near one is looked for: with more, the table is another job's.
const mostOffers = 200

// amount reads the quantity that may stand before a fluid: "1.4 L of gear oil". It gives the token behind it.
func (o *objects) amount(i int) int {
	if i >= len(o.t) {
		return i
	}
	v, n, bad := quantity.Prefix(o.raw.Text[o.t[i].start:])
	if bad != nil {
		o.r.problem(bad, o.raw, o.t[i].start)
		o.act.Broken = true
		return len(o.t)
	}
	if n == 0 {
		return i
	}
	end := o.t[i].start + n
	own, amount := o.r.values(o.act), v
	own.Amount, own.AmountAt = &amount, o.raw.At(o.t[i].start, end)
	for i < len(o.t) && o.t[i].start < end {
		i++
	}
	if i < len(o.t) && o.t[i].text == "of" {
		i++
	}
	return i
}

// detail is what stands behind the last object.
func (o *objects) detail(i int) string {
	if i >= len(o.t) {
		return ""
	}
	return strings.TrimSpace(o.raw.Text[o.t[i].start:])
}
