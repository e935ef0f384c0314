package resolve

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// writer puts the running text of one step together.
type writer struct {
	r        *resolver
	step     *procedure.Step
	sentence int
	said     []said
	began    bool       // something but white space has been written: conditions must stand first
	governs  *verb.Verb // the last of for, if, otherwise and repeat, and where it stands in their order
	place    int
}

// said is a message with the number of acts that stood before it.
type said struct {
	m    *procedure.Message
	acts int
}

func (w *writer) paragraph(list []syntax.Inline) {
	for _, i := range list {
		switch i := i.(type) {
		case *syntax.Text:
			w.text(i)
		case *syntax.Image:
			w.step.Notes = append(w.step.Notes, procedure.Remark{Figure: w.r.figure(i)})
		case *syntax.Break:
			w.step.Runs = append(w.step.Runs, procedure.Run{End: true, At: i.At})
		case *syntax.Tag:
			w.tag(i)
		}
	}
}

func (w *writer) text(t *syntax.Text) {
	s := t.Text
	if n := len(w.step.Runs); n == 0 || w.step.Runs[n-1].End {
		s = strings.TrimLeft(s, " ")
	}
	if s == "" {
		return
	}
	w.step.Runs = append(w.step.Runs, procedure.Run{Text: s, At: t.At, Code: t.Code, Weight: weight(t.Bold)})
	w.began = w.began || strings.Trim(s, " .,") != ""
	w.sentence += sentences(s)
}

// sentences counts the ends of sentences: a stop with a space or the end behind it.
func sentences(s string) int {
	n := 0
	for i := range len(s) {
		if (s[i] == '.' || s[i] == '!' || s[i] == '?' || s[i] == ';') && (i+1 == len(s) || s[i+1] == ' ') {
			n++
		}
	}
	return n
}

// tag takes one tag of a step.
func (w *writer) tag(t *syntax.Tag) {
	s, r := w.step, w.r
	if t.Verb == nil {
		s.Acts = append(s.Acts, r.brokenAct(t))
		return
	}
	switch t.Verb.Effect {
	case verb.If, verb.Otherwise, verb.For, verb.Times:
		w.condition(t)
		return
	case verb.Label:
		w.label(t)
		return
	case verb.Number:
		s.Runs = append(s.Runs, r.numberRun(t))
		return
	case verb.Waived:
		r.waive(t)
		return
	case verb.Include:
		r.fault("tag/misplaced", t.At, t.Verb.Name, "a step", "a paragraph of its own")
		return
	case verb.Message:
		m := r.inlineMessage(t)
		m.Step = s.Number
		s.Messages = append(s.Messages, m)
		w.said = append(w.said, said{m, w.actsThatTick()})
		return
	}
	a := r.act(t)
	a.Sentence = w.sentence
	s.Acts = append(s.Acts, a)
	if w.apart(t, a) {
		return
	}
	s.Runs = actRuns(s.Runs, t, a)
	w.began = true
}

// apart takes tags that print in blocks of their own, not in the running text.
func (w *writer) apart(t *syntax.Tag, a *procedure.Act) bool {
	s := w.step
	body := procedure.Text{Value: t.Body.Text, At: t.At}
	switch t.Verb.Effect {
	case verb.Hold:
		s.Own().Hold, s.HoldAt = body, t.At
	case verb.Handover:
		s.Own().Handover = t.At
	case verb.Wear:
		s.Own().Wear = append(s.Wear, body)
	case verb.FollowUp:
		s.Own().FollowUp = append(s.FollowUp, a)
	case verb.HandsOn:
		s.Own().Takes = a.Amount
	default:
		return false
	}
	return true
}

func (w *writer) actsThatTick() int {
	n := 0
	for _, a := range w.step.Acts {
		if a.Verb != nil && a.Verb.Ticks {
			n++
		}
	}
	return n
}

// lateMessages marks the messages that have acts before them in their step and none behind.
func (w *writer) lateMessages() {
	total := w.actsThatTick()
	for _, x := range w.said {
		before := 0
		for _, a := range w.step.Acts {
			if a.Verb != nil && a.Verb.Ticks && a.At.File == x.m.At.File && a.At.Start < x.m.At.Start {
				before++
			}
		}
		x.m.Late = before > 0 && before == total
	}
}

// condition takes if, otherwise, for and repeat, which stand first in their step.
func (w *writer) condition(t *syntax.Tag) {
	s, r := w.step, w.r
	if w.began {
		r.fault("tag/misplaced", t.At, t.Verb.Name, "the middle of a step", "the start of a step")
		return
	}
	w.inOrder(t)
	body := procedure.Text{Value: t.Body.Text, At: t.At}
	switch t.Verb.Effect {
	case verb.If:
		if body.Value == "" {
			r.fault("tag/empty", t.At)
			return
		}
		s.Own().If = body
	case verb.Otherwise:
		s.Own().Otherwise = t.At
	case verb.For:
		s.Own().For = append(s.For, r.variantsOf(procedure.Text{Value: t.Body.Text, At: t.Body.At(0, len(t.Body.Text))})...)
	case verb.Times:
		w.repeat(t)
	}
}

// inOrder reports a tag that governs its step and stands behind one that it should stand before: for, then if or otherwise,
// then repeat. It takes effect all the same.
func (w *writer) inOrder(t *syntax.Tag) {
	place := 2 // of if and otherwise
	switch t.Verb.Effect {
	case verb.For:
		place = 1
	case verb.Times:
		place = 3
	}
	if w.governs != nil && place < w.place {
		w.r.fault("tag/misplaced", t.At, t.Verb.Name, `the place after "`+w.governs.Name+`"`,
			"the start of the step, in this order: for, then if or otherwise, then repeat")
		return
	}
	w.governs, w.place = t.Verb, place
}

func (w *writer) repeat(t *syntax.Tag) {
	s := w.step.Own()
	s.Repeat.At = t.At
	words := strings.Fields(t.Body.Text)
	if len(words) > 1 && strings.EqualFold(words[0], "until") {
		s.Repeat.Until = strings.Join(words[1:], " ")
		return
	}
	if len(words) >= 2 && strings.HasPrefix(strings.ToLower(words[1]), "time") {
		if n, ok := countOf(strings.ToLower(words[0])); ok && n >= 1 && n <= 100 {
			s.Repeat.Times = n
			return
		}
	}
	s.Repeat = procedure.Repeat{}
	w.r.fault("tag/bad-quantity", bodyAt(t.Body, &procedure.Act{At: t.At}), t.Body.Text, `"3 times" (100 at most), or "until …"`)
}

func (w *writer) label(t *syntax.Tag) {
	r, name := w.r, strings.TrimSpace(t.Body.Text)
	if name == "" || strings.ContainsAny(name, " ") {
		r.fault("tag/bad-quantity", t.At, t.Whole.Text, "one word, such as {label cover-off}")
		return
	}
	if r.p.Labels == nil {
		r.p.Labels = map[string]*procedure.Step{}
	}
	if first, ok := r.p.Labels[name]; ok {
		r.fault("label/repeated", t.Body.At(0, len(name)), name).Related = related(first.Label.At, "first here")
		return
	}
	w.step.Own().Label = procedure.Text{Value: name, At: t.Body.At(0, len(name))}
	r.p.Labels[name] = w.step
}

// numberRun is a place where the number of a labelled step prints; the step may come later.
func (r *resolver) numberRun(t *syntax.Tag) procedure.Run {
	label := procedure.Text{Value: strings.TrimSpace(t.Body.Text), At: t.Body.At(0, len(t.Body.Text))}
	if r.uses == nil {
		r.uses = map[string]bool{}
	}
	r.uses[label.Value] = true
	ref := &procedure.Step{Terms: &procedure.Terms{}}
	r.numbers = append(r.numbers, pendingNumber{label: label, ref: ref})
	return procedure.Run{Step: ref, At: t.At, Keep: true}
}

func (r *resolver) waive(t *syntax.Tag) {
	head, reason, found := strings.Cut(t.Body.Text, ":")
	rule, thing, _ := strings.Cut(strings.TrimSpace(head), " ")
	at := t.Body.At(0, len(rule))
	w := &procedure.Waiver{
		At: t.At, Rule: procedure.Text{Value: rule, At: at}, Thing: procedure.Fold(thing),
		Reason: strings.TrimSpace(reason), Step: r.step, Included: r.included,
	}
	if !found || w.Reason == "" || !strings.ContainsAny(w.Reason, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ") {
		// It still lets its finding pass: the missing reason is the one slip, and no card is made with it.
		r.fault("waive/no-reason", t.At, rule)
		w.Reason = "no reason given"
	}
	r.p.Waivers = append(r.p.Waivers, w)
}

// brokenAct keeps the words of a tag that could not be read, so that the ledger can leave the things in it alone.
func (r *resolver) brokenAct(t *syntax.Tag) *procedure.Act {
	return &procedure.Act{
		Verb: &verb.Verb{Takes: verb.Words, Effect: verb.None}, At: t.At, Words: t.Whole.Text, Step: r.step, Broken: true, Values: procedure.NoValues,
	}
}
