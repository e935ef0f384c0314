package draft

import (
	"fmt"
	"slices"
	"strings"
)

// writer writes a procedure and remembers which line belongs to what.
type writer struct {
	b     strings.Builder
	line  int
	owner map[int]any // by line from 1: *step, *thing, *tool
}

func (w *writer) put(owner any, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	w.b.WriteString(text)
	w.b.WriteByte('\n')
	w.line++
	if owner != nil {
		w.owner[w.line] = owner
	}
}

func (w *writer) gap() {
	if !strings.HasSuffix(w.b.String(), "\n\n") {
		w.put(nil, "")
	}
}

func (w *writer) ask(list []Question) {
	for _, q := range list {
		w.gap()
		w.put(nil, "> question: %s", q.Text)
		w.gap()
	}
}

// render writes the whole procedure.
func (d *drafter) render() *writer {
	w := &writer{owner: map[int]any{}}
	w.put(nil, "---")
	w.put(nil, "title: %s", yamlText(d.title))
	w.put(nil, "number: %s", yamlText(d.opt.Number))
	w.put(nil, "revision: A")
	w.put(nil, "---")
	w.ask([]Question{{Text: "which number and revision does the register give this procedure? Those above only stand in"}})
	for _, x := range d.intro {
		d.one(w, x, nil)
	}
	d.declarations(w)
	stage, n := "", 0
	for _, x := range d.steps {
		if x.stage != stage {
			stage = x.stage
			w.gap()
			w.put(nil, "## %s", heading(stage))
			w.gap()
		}
		d.one(w, x, &n)
	}
	w.ask(d.ask)
	return w
}

func (d *drafter) declarations(w *writer) {
	w.gap()
	w.put(nil, "## Parts")
	w.gap()
	var parts, fluids []*thing
	for _, t := range d.things {
		if !d.spoken(t) {
			continue
		}
		if t.supply {
			fluids = append(fluids, t)
		} else {
			parts = append(parts, t)
		}
	}
	if len(parts) == 0 {
		w.put(nil, "- none")
	} else {
		d.table(w, parts)
	}
	w.gap()
	w.put(nil, "## Tools")
	w.gap()
	if len(d.tools) == 0 {
		w.put(nil, "- none")
	}
	for _, t := range d.tools {
		w.put(t, "- %s", strings.Join(append([]string{escape(t.name)}, t.detail...), ", "))
	}
	w.gap()
	w.put(nil, "## Supplies")
	w.gap()
	if len(fluids) == 0 {
		w.put(nil, "- none")
	}
	for _, t := range fluids {
		text := t.name
		if len(t.amount) > 0 && sameAll(t.amount) && len(t.amount) == 1 {
			text += ", " + t.amount[0]
		}
		w.put(t, "- %s", text)
	}
}

// spoken tells whether a thing is used by a step that stands as one, or was listed.
func (d *drafter) spoken(t *thing) bool {
	for _, x := range d.steps {
		if x.lost {
			continue
		}
		for _, p := range x.pieces {
			if p.act != nil && slices.ContainsFunc(p.act.objs, func(o object) bool { return o.thing == t }) {
				return true
			}
			if slices.ContainsFunc(p.tail, func(r run) bool { return r.supply == t }) {
				return true
			}
		}
	}
	return t.used == 0
}

func sameAll(list []string) bool {
	return len(slices.Compact(slices.Clone(list))) == 1
}

func (d *drafter) table(w *writer, parts []*thing) {
	w.put(nil, "| Part | Qty | Spec | Use | Torque |")
	w.put(nil, "|:--|--:|:--|:--|:--|")
	for _, t := range parts {
		qty, torque := "", ""
		if t.qty > 0 && !t.each && !t.rest {
			qty = fmt.Sprint(t.qty)
		}
		if len(t.torque) > 0 && sameAll(t.torque) {
			torque = t.torque[0]
		}
		w.put(t, "| %s | %s | %s | %s | %s |", t.name, qty, strings.Join(t.spec, ", "), t.use, torque)
	}
}

// one writes a sentence: a message, a remark, a question, or its steps.
func (d *drafter) one(w *writer, x *step, n *int) {
	x.line = w.line + 1
	switch {
	case x.signal != "":
		w.ask(x.asked)
		w.gap()
		w.put(x, "> **%s** %s", x.signal, escape(capital(closed(x.message))))
		if x.said.stamp != "" {
			w.gap()
			w.put(nil, "<!-- %s -->", comment(x.said.stamp))
		}
		w.gap()
	case x.lost || n == nil && !x.remark:
		w.gap()
		asked := x.asked
		if len(asked) == 0 {
			asked = []Question{{Text: quoted(x.said.text) + ": what is done here, and to what? write it as steps", Rule: "lost"}}
		}
		w.ask(asked)
		if x.said.stamp != "" || len(x.asked) > 0 {
			w.put(nil, "<!-- %s -->", comment(x.said.stamp+" "+x.said.text))
			w.gap()
		}
	case x.note:
		w.gap()
		w.put(x, "> %s", escape(capital(closed(x.said.text))))
		w.gap()
	case x.remark:
		w.gap()
		w.put(x, "<!-- %s -->", comment(strings.TrimSpace(x.said.stamp+" "+x.said.text)))
		w.gap()
	default:
		w.ask(x.asked)
		d.numbered(w, x, n)
	}
}

// numbered writes the steps of a sentence, three acts each at most.
func (d *drafter) numbered(w *writer, x *step, n *int) {
	for from, part := 0, 0; from < len(x.pieces); part++ {
		to, acts := from, 0
		for to < len(x.pieces) {
			if x.pieces[to].act != nil {
				acts++
			}
			if acts > 3 {
				break
			}
			to++
		}
		var words []string
		if x.cond != "" {
			words = append(words, "{If "+tagText(x.cond)+"}")
		}
		for _, p := range x.pieces[from:to] {
			words = append(words, p.write())
		}
		*n++
		body := strings.Join(words, " ")
		if part == 0 {
			if note := x.beside(body); note != "" {
				body += " <!-- " + note + " -->"
			}
		}
		w.put(x, "%d. %s", *n, body)
		from = to
	}
}

// beside gives the comment that a step needs: its time stamp, and the words of the notes where the step has others.
func (x *step) beside(body string) string {
	same := strings.NewReplacer("{tool ", "", "{supply ", "", "{", "", "}", "", `\`, "").Replace(body)
	if squeeze(same) == squeeze(x.said.text) {
		return comment(x.said.stamp)
	}
	return comment(strings.TrimSpace(x.said.stamp + " " + x.said.text))
}

func squeeze(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" .,;:!", r) }), " ")
}
