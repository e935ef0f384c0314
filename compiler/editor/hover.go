package editor

import (
	"fmt"
	"strings"

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
