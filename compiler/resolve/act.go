package resolve

import (
	"cmp"
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
	a := &procedure.Act{Verb: t.Verb, At: t.At, Words: t.Whole.Text, Step: r.step}
	body := t.Body
	switch t.Verb.Takes {
	case verb.Parts, verb.Part:
		r.strict(a, body, "part")
	case verb.Torque:
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
		r.measure(a, body)
	case verb.Tool:
		r.toolAct(a, body)
	default:
		a.Name = body.Text
		r.mentions(a, body, tokens(body.Text))
	}
	return a
}

// problem records what is wrong with a quantity; at is where in the tag its text begins.
func (r *resolver) problem(p *quantity.Problem, raw syntax.Raw, at int) {
	r.fault(p.Fault, raw.At(at+p.Start, at+p.End), p.Words...)
}

func (r *resolver) strict(a *procedure.Act, raw syntax.Raw, kind string) {
	o := &objects{r: r, raw: raw, t: tokens(raw.Text), act: a, fits: isPart, kind: kind}
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
	o := &objects{r: r, raw: raw, t: tokens(raw.Text), act: a, fits: isAny, any: true, kind: "part"}
	if len(o.t) == 0 {
		r.fault("tag/empty", a.At)
		a.Broken = true
		return
	}
	a.Detail = o.detail(o.read(0))
	r.mentions(a, raw, o.t)
}

// mentions adds the declared things that stand among the words of a tag and are not its objects: they count as spoken of.
func (r *resolver) mentions(a *procedure.Act, raw syntax.Raw, t []token) {
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
			a.Mentions = append(a.Mentions, procedure.Object{At: at, NameAt: at, Typed: at.Text(), Part: e.part, Supply: e.supply, Tool: e.tool, Plural: e.plural})
		}
		i += n - 1
	}
}

func (r *resolver) supplyAct(a *procedure.Act, raw syntax.Raw) {
	o := &objects{r: r, raw: raw, t: tokens(raw.Text), act: a, fits: isSupply, kind: "supply"}
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
			a.Pieces, countAt = c, raw.At(o.t[k].start, o.t[k].end)
		}
	}
	a.Broken = true
	end := o.phraseEnd(i)
	for i < end-1 && mark(o.t[i].text) {
		i++
	}
	if i >= len(o.t) {
		r.fault("supply/not-listed", a.At, raw.Text, near(raw.Text, r.names.supplies))
		return
	}
	end = max(end, i+1)
	phrase := raw.Text[o.t[i].start:o.t[end-1].end]
	r.fault("supply/not-listed", raw.At(o.t[i].start, o.t[end-1].end), phrase, near(phrase, r.names.supplies))
}

// waitFor reads start ("sealant cure, 20 min") and await ("sealant cure, within 2 h").
func (r *resolver) waitFor(a *procedure.Act, raw syntax.Raw) {
	thing, rest, found := strings.Cut(raw.Text, ",")
	thing = strings.TrimSpace(thing)
	words := tokens(thing)
	for len(words) > 0 && (words[0].text == "the" || words[0].text == "a" || words[0].text == "its") {
		words = words[1:]
	}
	if len(words) == 0 {
		r.fault("tag/empty", a.At)
		a.Broken = true
		return
	}
	from, to := words[0].start, words[len(words)-1].end
	a.Objects = []procedure.Object{{
		At: raw.At(from, to), NameAt: raw.At(from, to), Typed: raw.Text[from:to], Name: singular(procedure.Fold(raw.Text[from:to])),
	}}
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
		a.Amount, a.AmountAt = &v, raw.At(from+skip, from+skip+n)
		a.Detail = strings.TrimSpace(text[n:])
	}
}

// toolAct finds the tool that a tag names: its words, or one side of its "or", with details where several share a name.
func (r *resolver) toolAct(a *procedure.Act, raw syntax.Raw) {
	words := raw.Text
	for _, w := range []string{"the ", "a ", "an ", "both "} {
		if len(words) > len(w) && strings.EqualFold(words[:len(w)], w) {
			words = words[len(w):]
		}
	}
	name, detail := cutDetail(words)
	type hit struct {
		tool   *procedure.Tool
		choice int
	}
	var hits []hit
	var listed []string
	whole, folded := spaced(words), spaced(name)
	for _, t := range r.spacedTools() {
		if t.whole == whole {
			hits, listed = []hit{{t.tool, 0}}, []string{t.tool.Whole}
			break
		}
		for i, c := range t.tool.Choices {
			if t.choices[i][0] != folded && t.choices[i][1] != folded || !holdsDetails(c.Detail, detail) {
				continue
			}
			hits, listed = append(hits, hit{t.tool, i}), append(listed, c.Name+comma(c.Detail))
		}
	}
	at := raw.At(len(raw.Text)-len(words), len(raw.Text))
	switch len(hits) {
	case 0:
		r.fault("tool/not-listed", at, words, near(name, r.names.tools)).Thing = words
		a.Broken = true
	case 1:
		a.Tool, a.Choice = hits[0].tool, hits[0].choice
	default:
		r.fault("tool/ambiguous", at, append([]string{words}, listed...)...)
		a.Broken = true
		a.Tool, a.Choice = hits[0].tool, hits[0].choice
	}
}

// spacedTool is a tool of the list with its names made fit to compare.
type spacedTool struct {
	tool    *procedure.Tool
	whole   string
	choices [][2]string // singular and plural
}

// spacedTools are the tools of the list, once all of them are known.
func (r *resolver) spacedTools() []spacedTool {
	if r.tools == nil {
		for _, t := range r.p.Tools {
			s := spacedTool{tool: t, whole: spaced(t.Whole)}
			for _, c := range t.Choices {
				s.choices = append(s.choices, [2]string{spaced(c.Name), spaced(procedure.Plural(c.Name))})
			}
			r.tools = append(r.tools, s)
		}
	}
	return r.tools
}

// spaced folds the name of a tool; "13mm open end wrench" is "13 mm open-end wrench".
func spaced(name string) string {
	folded := procedure.Fold(name)
	joined := false
	for i := 1; i < len(folded) && !joined; i++ {
		joined = isDigit(folded[i-1]) && 'a' <= folded[i] && folded[i] <= 'z'
	}
	if !joined {
		return folded
	}
	var b strings.Builder
	for i := range len(folded) {
		if i > 0 && isDigit(folded[i-1]) && 'a' <= folded[i] && folded[i] <= 'z' {
			b.WriteByte(' ')
		}
		b.WriteByte(folded[i])
	}
	return b.String()
}

func comma(s string) string {
	if s == "" {
		return ""
	}
	return ", " + s
}

// holdsDetails tells whether every detail of a tag is one of the tool's.
func holdsDetails(of, asked string) bool {
	if asked == "" {
		return true
	}
	for _, a := range strings.Split(asked, ",") {
		found := false
		for _, d := range strings.Split(of, ",") {
			found = found || sameDetail(a, d)
		}
		if !found {
			return false
		}
	}
	return true
}

func sameDetail(a, b string) bool {
	if procedure.Fold(a) == procedure.Fold(b) {
		return true
	}
	x, bad1 := quantity.Parse(strings.TrimSpace(a))
	y, bad2 := quantity.Parse(strings.TrimSpace(b))
	return bad1 == nil && bad2 == nil && quantity.Same(x, y)
}

// At of a whole body, for faults about all of it.
func bodyAt(raw syntax.Raw, a *procedure.Act) source.Span {
	if raw.Text == "" {
		return a.At
	}
	return raw.At(0, len(raw.Text))
}
