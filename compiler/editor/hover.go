package editor

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// Note is what is known of a place, as Markdown.
type Note struct {
	At   source.Span
	Text string
}

// Hover tells what is known of an offset of the file that is looked at: of a finding why it matters, of a thing its row and how it
// stands at this step, of a verb what it does. ok is false where nothing is known.
func (v *View) Hover(offset int) (n Note, ok bool) {
	var paragraphs []string
	take := func(at source.Span, text string) {
		if text == "" {
			return
		}
		if !n.At.Known() || at.End-at.Start < n.At.End-n.At.Start {
			n.At = at
		}
		paragraphs = append(paragraphs, text)
	}
	if u, ok := v.UseAt(offset); ok {
		take(u.At, v.thing(u, offset))
	} else if at, text := v.verbAt(offset); text != "" {
		take(at, text)
	} else if at, text := v.quantityAt(offset); text != "" {
		take(at, text)
	}
	for _, f := range v.Result.Findings {
		if f.Waived == "" && v.at(f.At, offset) {
			take(f.At, why(f))
		}
	}
	n.Text = strings.Join(paragraphs, "\n\n---\n\n")
	return n, len(paragraphs) > 0
}

// why tells of a finding what its message leaves out.
func why(f diag.Finding) string {
	var b strings.Builder
	fmt.Fprintf(&b, "**%s** %s", f.Severity, escaped(f.Message))
	if reason := reasonOf(f); reason != "" {
		fmt.Fprintf(&b, "\n\n*why* %s", escaped(reason))
	}
	if f.Do != "" {
		fmt.Fprintf(&b, "\n\n*do* %s", escaped(f.Do))
	}
	fmt.Fprintf(&b, "\n\n*more* `refitcard explain %s`", f.Rule)
	return b.String()
}

// thing tells of a named thing.
func (v *View) thing(u Use, offset int) string {
	p := v.Result.Proc
	var all []string
	switch u.Thing.Sort {
	case Part:
		for _, x := range p.Parts {
			if partThing(x) == u.Thing {
				all = append(all, v.partRow(x))
			}
		}
	case Tool:
		for _, x := range p.Tools {
			for _, c := range x.Choices {
				if procedure.Fold(c.Name) == u.Thing.Name {
					all = append(all, v.toolRow(x, c))
				}
			}
		}
	case Supply:
		for _, x := range p.Supplies {
			if supplyThing(x) == u.Thing {
				all = append(all, v.supplyRow(x))
			}
		}
	case Label:
		if s := p.Labels[u.Thing.Name]; s != nil {
			all = append(all, fmt.Sprintf("**step %s** %s", s.Name(), escaped(stepWords(s))))
		}
	}
	if state := v.stateHere(u.Thing, offset); state != "" && len(all) > 0 {
		all = append(all, state)
	}
	return strings.Join(all, "\n\n")
}

// rows puts "name value" lines together, those without a value left out.
func rows(head string, pairs ...string) string {
	var b strings.Builder
	b.WriteString(head)
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			fmt.Fprintf(&b, "\n- %s: %s", pairs[i], pairs[i+1])
		}
	}
	return b.String()
}

func (v *View) partRow(p *procedure.Part) string {
	count := procedure.CountName(p.Qty, p.Name.Value)
	if p.UpTo {
		count = "up to " + count
	}
	var variants []string
	for _, x := range p.Variants {
		variants = append(variants, x.Value)
	}
	place := ""
	if p.PlaceAt.Known() {
		place = strings.Join(strings.Fields(p.PlaceAt.Text()), " ")
	}
	return rows(fmt.Sprintf("**%s** %s", escaped(count), useWords(p.Use)),
		"spec", escaped(p.Spec.Value),
		"number", escaped(p.Number.Value),
		"bin", escaped(v.Result.Settings.BinOf(p)),
		"place", escaped(place),
		"torque", torqueWords(p),
		"loads", loadWords(p),
		"turned by", turnedBy(p),
		"variants", escaped(strings.Join(variants, ", ")),
	)
}

// useWords says what becomes of a part.
func useWords(u procedure.Use) string {
	switch u {
	case procedure.ReplaceUse:
		return "replace: the old one is scrapped, a new one fitted"
	case procedure.Add:
		return "add: not on the machine before"
	case procedure.Omit:
		return "omit: comes off and stays off"
	case procedure.IfWorn:
		return "if worn: goes back unless it is worn"
	}
	return "reuse: comes off and goes back"
}

func (v *View) toolRow(t *procedure.Tool, c procedure.Choice) string {
	line := v.Result.Settings.CribOf(c)
	or := ""
	if len(t.Choices) > 1 {
		or = "one of: " + t.Whole
	}
	return rows("**"+escaped(c.Name)+"** tool",
		"details", escaped(c.Detail),
		"choice", escaped(or),
		"crib", escaped(line.Crib),
		"serial", escaped(line.Serial),
		"calibrated to", escaped(line.CalibratedTo),
		"turns", escaped(v.turnedWith(c)),
	)
}

func (v *View) supplyRow(s *procedure.Supply) string {
	amount := ""
	switch {
	case s.Quantity != nil:
		amount = s.Quantity.Running()
	case s.Count > 0:
		amount = fmt.Sprint(s.Count)
	}
	from, drains := "", ""
	if s.FromMachine {
		from = "the machine: not on the pick list"
	}
	if s.Drains != nil {
		drains = s.Drains.Running()
	}
	return rows("**"+escaped(s.Name.Value)+"** supply",
		"for the job", amount,
		"details", escaped(s.Detail),
		"from", from,
		"drains", drains,
		"bin", escaped(v.Result.Settings.SupplyBin(s)),
		"pack", escaped(v.Result.Settings.PackOf(s)),
	)
}

// stateHere tells how a thing stands before and after the step that holds an offset; of the declarations, at the end of the job.
func (v *View) stateHere(t Thing, offset int) string {
	if t.Sort != Part && t.Sort != Supply || t.Sort == Part && v.isAdded(t) {
		return ""
	}
	step := v.stepAt(offset)
	var said []string
	for _, p := range v.plays() {
		if step == nil {
			said = append(said, variantOf(p)+"at the end of the job: "+standing(p.End, t))
			continue
		}
		i := -1
		for k, s := range p.After {
			if s.Step == step {
				i = k
			}
		}
		if i < 0 {
			continue // this variant skips the step
		}
		before := p.Start
		if i > 0 {
			before = p.After[i-1]
		}
		was, is := standing(before, t), standing(p.After[i], t)
		if was == is {
			said = append(said, fmt.Sprintf("%sin step %s: %s", variantOf(p), step.Name(), is))
			continue
		}
		said = append(said, fmt.Sprintf("%sbefore step %s: %s; after it: %s", variantOf(p), step.Name(), was, is))
	}
	return strings.Join(slices.Compact(said), "\n\n")
}

// isAdded tells whether a part was not on the machine before the job: a state tells of the parts of a whole machine alone.
func (v *View) isAdded(t Thing) bool {
	return slices.ContainsFunc(v.Result.Proc.Parts, func(p *procedure.Part) bool { return p.Use == procedure.Add && partThing(p) == t })
}

func variantOf(p assembly.Play) string {
	if p.Variant == "" {
		return ""
	}
	return escaped(p.Variant) + ", "
}

// standing says how a part or a fluid stands in a state of the machine.
func standing(s assembly.State, t Thing) string {
	var said []string
	for _, list := range [][]assembly.Counted{s.Off, s.Loose, s.Scrap} {
		for _, c := range list {
			if c.Part != nil && procedure.Fold(c.Name) == t.Name && t.Sort == Part {
				said = append(said, countedWords(c))
			}
		}
	}
	for _, c := range s.Open {
		if procedure.Fold(c.Name) == t.Name && c.Why != "" {
			said = append(said, "the act was: "+c.Why)
		}
	}
	if t.Sort == Supply && slices.ContainsFunc(s.Drained, func(n string) bool { return procedure.Fold(n) == t.Name }) {
		said = append(said, "drained")
	}
	switch {
	case len(said) > 0:
		return strings.Join(said, ", ")
	case t.Sort == Supply:
		return "not drained"
	}
	return "all on, none loose"
}

// gripWords puts the words of the ledger into those of the trade.
var gripWords = map[string]string{"in": "in and not tightened", "stage": "at a first stage of its torque", "tight": "tight, not torqued", "scrap": "scrapped"}

func countedWords(c assembly.Counted) string {
	word := c.Why
	if w, ok := gripWords[word]; ok {
		word = w
	}
	if c.Of <= 1 && c.N <= 1 {
		return word
	}
	return fmt.Sprintf("%d of %d %s", c.N, c.Of, word)
}

// stepAt gives the innermost step of the file that is looked at which holds an offset.
func (v *View) stepAt(offset int) (found *procedure.Step) {
	v.Result.Proc.EachStep(func(s *procedure.Step) {
		if v.at(s.At, offset) && (found == nil || s.At.End-s.At.Start <= found.At.End-found.At.Start) {
			found = s
		}
	})
	return found
}

// quantityAt converts a torque, or another quantity of an act, into its other unit.
func (v *View) quantityAt(offset int) (source.Span, string) {
	a := v.actAt(offset)
	if a == nil {
		return source.Span{}, ""
	}
	for _, x := range []struct {
		value *quantity.Value
		at    source.Span
	}{{a.Torque.Value, a.Torque.At}, {a.Amount, a.AmountAt}, {a.Limit, a.LimitAt}} {
		if x.value == nil || x.value.Unit == nil || !v.at(x.at, offset) {
			continue
		}
		other := quantity.Counterpart(x.value.Unit, *x.value)
		if other == nil || other == x.value.Unit {
			return x.at, ""
		}
		return x.at, fmt.Sprintf("%s is %s", x.value.Running(), x.value.In(other).Running())
	}
	return source.Span{}, ""
}

// escaped makes words of a procedure harmless in Markdown.
func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		if strings.ContainsRune("\\`*_<>[]#|~", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// reasonOf gives why a finding matters: its own words, else those of its rule's text.
func reasonOf(f diag.Finding) string {
	if f.Why != "" {
		return f.Why
	}
	if t, ok := Explained(f.Rule); ok {
		return strings.Join(strings.Fields(t.Why), " ")
	}
	return ""
}

// Explained gives the text of a check by its name.
func Explained(name string) (rules.Text, bool) {
	family, _, _ := strings.Cut(name, "/")
	for _, f := range families() {
		if f.Name == family {
			t, err := f.Text(name)
			return t, err == nil
		}
	}
	return rules.Text{}, false
}
