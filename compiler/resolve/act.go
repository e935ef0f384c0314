package resolve

import (
	"cmp"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// act understands a tag; nil for a tag that could not be read at all.
func (r *resolver) act(t *syntax.Tag) *procedure.Act {
	if t.Verb == nil {
		return nil
	}
	a, body := r.acts.one(), t.Body
	a.Verb, a.At, a.Words, a.Step, a.Values = t.Verb, t.At, t.Whole.Text, r.step, procedure.NoValues
	a.Objects = r.objects.begin()
	switch t.Verb.Takes {
	case verb.Parts, verb.Part:
		r.strict(a, body, "part")
	case verb.Torque:
		r.values(a)
		r.torqueAct(a, body)
	case verb.Fluids:
		r.strict(a, body, "supply")
	case verb.Supply:
		r.supplyAct(a, body)
	case verb.Anything:
		r.anything(a, body)
	case verb.OneThing:
		r.waitFor(a, body)
	case verb.Duration:
		r.duration(a, body, 0)
	case verb.Measure, verb.Limit:
		r.values(a)
		r.measure(a, body)
	case verb.Tool:
		r.toolAct(a, body)
	default:
		r.values(a).Name = body.Text
		r.mentions(a, body, r.tokens(body))
	}
	a.Objects = r.objects.end(a.Objects)
	return a
}

// values gives the values of an act to be filled in: from then on it has its own.
func (r *resolver) values(a *procedure.Act) *procedure.Values {
	if a.Values == procedure.NoValues {
		a.Values = r.valued.one()
	}
	return a.Values
}

// tokens cuts the text of a tag, or a part of one, in room that is used again for the next.
func (r *resolver) tokens(raw syntax.Raw) []token {
	r.words = tokens(r.words[:0], raw.Text)
	return r.words
}

// problem records what is wrong with a quantity; at is where in the tag its text begins.
func (r *resolver) problem(p *quantity.Problem, raw syntax.Raw, at int) {
	r.fault(p.Fault, raw.At(at+p.Start, at+p.End), p.Words...)
}

func (r *resolver) strict(a *procedure.Act, raw syntax.Raw, kind string) {
	o := &objects{r: r, raw: raw, t: r.tokens(raw), act: a, fits: isPart, kind: kind}
	i := 0
	if kind == "supply" {
		o.fits = isSupply
		i = o.amount(0)
		if a.Broken {
			return
		}
		if i >= len(o.t) && a.Verb.Effect == verb.TopUp { // "top up" alone after a measure is said of its fluid
			a.Detail = ""
		}
	}
	a.Detail = o.detail(o.read1(i))
	if len(a.Objects) == 1 && a.Objects[0].Supply != nil && a.Amount != nil {
		r.measured(a, a.Objects[0].Supply, a.AmountAt)
	}
}

// read1 reads objects, of which there must be one.
func (o *objects) read1(i int) int {
	if i >= len(o.t) {
		o.unknown(i, i, "")
		o.act.Broken = true
		return i
	}
	return o.read(i)
}

func (r *resolver) anything(a *procedure.Act, raw syntax.Raw) {
	o := &objects{r: r, raw: raw, t: r.tokens(raw), act: a, fits: isAny, any: true, kind: "part"}
	if len(o.t) == 0 {
		r.fault("tag/empty", a.At)
		a.Broken = true
		return
	}
	a.Detail = o.detail(o.read(0))
	r.mentions(a, raw, o.t)
}

// typed is what stands at a place. Most likely that is a text that is there already: then it is not copied.
func typed(at source.Span, likely string) string {
	if at.Known() && string(at.File.Text[at.Start:at.End]) == likely {
		return likely
	}
	return at.Text()
}

// mentions adds the declared things that stand among the words of a tag and are not its objects: they count as spoken of.
func (r *resolver) mentions(a *procedure.Act, raw syntax.Raw, t []token) {
	var room [4]procedure.Object
	found := room[:0]
	for i := 0; i < len(t); i++ {
		e, n := r.names.match(t, i, isAny)
		if n == 0 {
			continue
		}
		at := raw.At(t[i].start, t[i+n-1].end)
		known := false
		for _, o := range a.Objects {
			known = known || o.At.Holds(at)
		}
		if !known {
			found = append(found, procedure.Object{At: at, NameAt: at, Typed: typed(at, raw.Text[t[i].start:t[i+n-1].end]), Part: e.part, Supply: e.supply, Tool: e.tool, Plural: e.plural})
		}
		i += n - 1
	}
	if len(found) > 0 {
		r.values(a).Mentions = slices.Clone(found)
	}
}

func (r *resolver) supplyAct(a *procedure.Act, raw syntax.Raw) {
	o := &objects{r: r, raw: raw, t: r.tokens(raw), act: a, fits: isSupply, kind: "supply"}
	i := o.amount(0)
	if a.Broken {
		return
	}
	var countAt source.Span
	for k := i; k < len(o.t); k++ {
		e, n := r.names.match(o.t, k, isSupply)
		if n > 0 {
			var x procedure.Object
			o.finish(&x, e, i, k, k+n)
			a.Detail = o.detail(k + n)
			r.measured(a, e.supply, cmp.Or(a.AmountAt, x.CountAt, countAt))
			return
		}
		if !mark(o.t[k].text) {
			break
		}
		if c, ok := countOf(o.t[k].text); ok {
			r.values(a).Pieces, countAt = c, raw.At(o.t[k].start, o.t[k].end)
		}
	}
	a.Broken = true
	end := o.phraseEnd(i)
	for i < end-1 && mark(o.t[i].text) {
		i++
	}
	if i >= len(o.t) {
		r.fault("supply/not-listed", a.At, raw.Text, near(raw.Text, r.names.typed(isSupply)))
		return
	}
	end = max(end, i+1)
	phrase := raw.Text[o.t[i].start:o.t[end-1].end]
	r.fault("supply/not-listed", raw.At(o.t[i].start, o.t[end-1].end), phrase, near(phrase, r.names.typed(isSupply)))
}

// waitFor reads start ("sealant cure, 20 min") and await ("sealant cure, within 2 h").
func (r *resolver) waitFor(a *procedure.Act, raw syntax.Raw) {
	thing, rest, found := strings.Cut(raw.Text, ",")
	thing = strings.TrimSpace(thing)
	r.words = tokens(r.words[:0], thing)
	words := r.words
	for len(words) > 0 && (words[0].text == "the" || words[0].text == "a" || words[0].text == "its") {
		words = words[1:]
	}
	if len(words) == 0 {
		r.fault("tag/empty", a.At)
		a.Broken = true
		return
	}
	from, to := words[0].start, words[len(words)-1].end
	a.Objects = append(a.Objects, procedure.Object{
		At: raw.At(from, to), NameAt: raw.At(from, to), Typed: raw.Text[from:to], Name: singular(procedure.Fold(raw.Text[from:to])),
	})
	at := len(raw.Text) - len(rest)
	rest, skip := trimLeft(rest)
	at += skip
	switch {
	case a.Verb.Effect == verb.Await && !found:
	case a.Verb.Effect == verb.Await:
		within, ok := strings.CutPrefix(rest, "within ")
		if !ok {
			a.Detail = rest
			return
		}
		r.duration(a, raw.Cut(at+len("within "), at+len("within ")+len(within)), 0)
	case !found:
		r.fault("tag/missing-quantity", a.At, a.Verb.Name, thing)
		a.Broken = true
	default:
		r.duration(a, raw.Cut(at, len(raw.Text)), 0)
	}
}

func trimLeft(s string) (string, int) {
	t := strings.TrimLeft(s, " ")
	return t, len(s) - len(t)
}

// duration reads a time, with words of detail behind it.
func (r *resolver) duration(a *procedure.Act, raw syntax.Raw, from int) {
	text, skip := trimLeft(raw.Text[from:])
	for _, w := range []string{"at least ", "about ", "another "} {
		if rest, ok := strings.CutPrefix(text, w); ok {
			text, skip = rest, skip+len(w)
		}
	}
	v, n, bad := quantity.Prefix(text)
	switch {
	case bad != nil:
		r.problem(bad, raw, from+skip)
		a.Broken = true
	case text == "" && a.Verb.Effect != verb.Wait || n == 0 && (text == "" || !isDigit(text[0])):
		r.fault("tag/missing-quantity", a.At, a.Verb.Name, raw.Text)
		a.Broken = true
	case n == 0 || v.Unit.Kind != quantity.Time:
		r.fault("tag/bad-quantity", raw.At(from+skip, len(raw.Text)), text, "a time, such as 10 min")
		a.Broken = true
	default:
		own := r.values(a)
		amount := v
		own.Amount, own.AmountAt = &amount, raw.At(from+skip, from+skip+n)
		a.Detail = strings.TrimSpace(text[n:])
	}
}

// At of a whole body, for faults about all of it.
func bodyAt(raw syntax.Raw, a *procedure.Act) source.Span {
	if raw.Text == "" {
		return a.At
	}
	return raw.At(0, len(raw.Text))
}
