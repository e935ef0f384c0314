package document

import (
	"fmt"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/prose"
	"refitcard/compiler/verb"
)

// stages puts the stages with their steps.
func (w *writer) stages() []Block {
	var blocks []Block
	for _, stage := range w.p.Stages {
		steps := w.mine(stage.Steps)
		if len(steps) == 0 && len(stage.Messages) == 0 && len(stage.Tail) == 0 {
			continue
		}
		blocks = append(blocks, Stage{stage.Title.Value, stepRange(steps), stage.Title.At})
		for _, m := range byLevel(stage.Messages) {
			blocks = append(blocks, panel(m))
		}
		blocks = append(blocks, w.among(stage.Steps)...)
		blocks = append(blocks, remarks(stage.Tail)...)
	}
	nameNext(blocks)
	return blocks
}

// nameNext tells each hold which step comes after it.
func nameNext(blocks []Block) {
	next := ""
	for i := len(blocks) - 1; i >= 0; i-- {
		s, ok := blocks[i].(Step)
		if !ok {
			continue
		}
		for _, a := range s.Acts {
			if a.Hold != nil {
				a.Hold.Next = next
			}
		}
		next = s.Name
	}
}

// among makes the blocks of the steps that the variant has, and says in place of the others that they are not missing.
func (w *writer) among(steps []*procedure.Step) []Block {
	var blocks []Block
	var others []*procedure.Step
	tell := func() {
		if len(others) > 0 {
			blocks = append(blocks, Note{Runs: []Run{{Text: notHere(others)}}, At: others[0].At})
		}
		others = nil
	}
	own := w.mine(steps)
	for _, s := range steps {
		if !slices.Contains(own, s) {
			others = append(others, s)
			continue
		}
		tell()
		blocks = append(blocks, w.step(s)...)
	}
	tell()
	return blocks
}

// notHere tells which steps are for other variants, so that a gap in the numbers is not taken for a lost step.
func notHere(steps []*procedure.Step) string {
	var variants []string
	for _, s := range steps {
		for _, t := range s.For {
			if !slices.Contains(variants, t.Value) {
				variants = append(variants, t.Value)
			}
		}
	}
	first, last := steps[0].Name(), steps[len(steps)-1].Name()
	words := "Step " + first + " is"
	if len(steps) > 1 {
		words = "Steps " + first + " to " + last + " are"
	}
	return words + " for " + strings.Join(variants, " and ") + ": not on this card."
}

// mine gives the steps that the variant has.
func (w *writer) mine(steps []*procedure.Step) []*procedure.Step {
	var own []*procedure.Step
	for _, s := range steps {
		if len(s.For) == 0 || w.opt.Variant == "" || slices.ContainsFunc(s.For, func(t procedure.Text) bool { return t.Value == w.opt.Variant }) {
			own = append(own, s)
		}
	}
	return own
}

func stepRange(steps []*procedure.Step) string {
	switch len(steps) {
	case 0:
		return ""
	case 1:
		return "step " + steps[0].Name()
	}
	return fmt.Sprintf("steps %s to %s", steps[0].Name(), steps[len(steps)-1].Name())
}

// step makes the blocks of a step: itself, then its sub-steps.
func (w *writer) step(s *procedure.Step) []Block {
	w.steps++
	b := Step{Name: s.Name(), Number: s.Number, Condition: w.condition(s), At: s.At}
	for _, m := range byLevel(s.Messages) {
		b.Panels = append(b.Panels, panel(m))
	}
	b.Before = append(remarks(s.Before), notesOf(s.Notes)...)
	for _, l := range s.Stacks {
		b.Before = append(b.Before, pile(l))
	}
	b.Acts = w.acts(s)
	for _, m := range s.Notes {
		if m.Figure != nil {
			f := figure(m.Figure)
			if n := len(b.Acts); n > 0 {
				b.Acts[n-1].Figures = append(b.Acts[n-1].Figures, f)
			} else {
				b.Before = append(b.Before, f)
			}
		}
	}
	b.Before = append(b.Before, w.drawings(s)...)
	if b.Condition.If != "" {
		w.boxes++ // "not needed"
	}
	w.boxes += max(b.Condition.Times, 0)
	return append([]Block{b}, w.among(s.Steps)...)
}

func (w *writer) condition(s *procedure.Step) Condition {
	c := Condition{If: s.If.Value, Otherwise: s.Otherwise.Known()}
	if w.opt.Variant == "" {
		for _, t := range s.For {
			c.For = append(c.For, t.Value)
		}
	}
	switch {
	case s.Repeat.Until != "":
		c.Repeat = "Repeat until " + s.Repeat.Until
	case s.Repeat.Times > 0:
		c.Repeat = fmt.Sprintf("%d times", s.Repeat.Times)
		c.Times = s.Repeat.Times
	}
	if s.Takes != nil {
		c.Takes = s.Takes.Running()
	}
	return c
}

// drawings are the layouts of a step that no torque of the job shows, save those of parts that only other variants have.
func (w *writer) drawings(s *procedure.Step) []Block {
	var blocks []Block
	for _, l := range s.Layouts {
		ours := len(l.Parts) == 0 || slices.ContainsFunc(l.Parts, func(p *procedure.Part) bool { return p.In(w.opt.Variant) })
		if ours && !w.tightened(l) {
			blocks = append(blocks, layout(l, ""))
		}
	}
	return blocks
}

// tightened tells whether a torque of the job draws a layout.
func (w *writer) tightened(l *procedure.Layout) bool {
	found := false
	eachStep(w.p, w.opt.Variant, func(s *procedure.Step) {
		for _, a := range s.Acts {
			found = found || a.Verb.Effect == verb.DoTorque && w.layoutOf(a) == l
		}
	})
	return found
}

// levels are the signal words in the order in which they print.
var levels = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}

func byLevel(list []*procedure.Message) []*procedure.Message {
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(a, b *procedure.Message) int {
		return slices.Index(levels, a.Signal) - slices.Index(levels, b.Signal)
	})
	return sorted
}

// panel parts a message into hazard, consequence and what to do: that begins at the first sentence behind the hazard that
// orders something.
func panel(m *procedure.Message) Panel {
	p := Panel{Signal: m.Signal, Hazard: plainRuns(m.Hazard), At: m.At}
	rest := plainRuns(m.Rest)
	if len(rest) == 0 && prose.Commands(text(p.Hazard), false) {
		// One order alone: it is what to do, and there is nothing to set before it.
		return p
	}
	at := 0
	whole := text(rest)
	for at < len(whole) {
		end := sentence(whole, at)
		if prose.Commands(whole[at:end], false) || end == len(whole) && at > 0 && prose.Commands(whole[at:end], true) {
			break
		}
		at = end
	}
	p.Consequence, p.Avoid = cut(rest, at)
	return p
}

// sentence gives the end of the sentence that begins at a place, with the space behind it.
func sentence(s string, at int) int {
	for i := at; i < len(s); i++ {
		if strings.ContainsRune(".!?", rune(s[i])) && (i+1 == len(s) || s[i+1] == ' ') {
			for i+1 < len(s) && s[i+1] == ' ' {
				i++
			}
			return i + 1
		}
	}
	return len(s)
}

func text(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		b.WriteString(r.Text)
	}
	return b.String()
}

// cut parts runs at a byte of their text and trims the white at the cut.
func cut(runs []Run, at int) (head, tail []Run) {
	for _, r := range runs {
		switch {
		case at >= len(r.Text):
			head = append(head, r)
		case at <= 0:
			tail = append(tail, r)
		default:
			a, b := r, r
			a.Text, b.Text = r.Text[:at], r.Text[at:]
			head, tail = append(head, a), append(tail, b)
		}
		at -= len(r.Text)
	}
	return trim(head), trim(tail)
}

// trim takes white off the ends.
func trim(runs []Run) []Run {
	for len(runs) > 0 {
		if runs[0].Text = strings.TrimLeft(runs[0].Text, " "); runs[0].Text != "" {
			break
		}
		runs = runs[1:]
	}
	for n := len(runs); n > 0; n = len(runs) {
		if runs[n-1].Text = strings.TrimRight(runs[n-1].Text, " "); runs[n-1].Text != "" {
			break
		}
		runs = runs[:n-1]
	}
	return runs
}

// plainRuns turns runs of the model into runs of a paper, without any weight.
func plainRuns(list []procedure.Run) []Run {
	var out []Run
	for _, r := range list {
		t := runText(r)
		if t != "" {
			out = append(out, Run{Text: t, Keep: r.Keep, Mono: r.Code})
		}
	}
	return trim(out)
}

func runText(r procedure.Run) string {
	switch {
	case r.End:
		return " "
	case r.Step != nil:
		return r.Step.Name()
	}
	return r.Text
}

func boldRuns(list []procedure.Run) []Run {
	out := make([]Run, 0, len(list))
	for _, r := range list {
		if t := runText(r); t != "" {
			out = append(out, Run{Text: t, Bold: r.Weight == procedure.Strong, Keep: r.Keep, Mono: r.Code})
		}
	}
	return out
}

// remarks turns notes and figures into blocks.
func remarks(list []procedure.Remark) []Block {
	var blocks []Block
	for _, m := range list {
		switch {
		case m.Note != nil:
			blocks = append(blocks, Note{trim(boldRuns(m.Note.Runs)), m.Note.Head, m.Note.At})
		case m.Figure != nil:
			blocks = append(blocks, figure(m.Figure))
		}
	}
	return blocks
}

func notesOf(list []procedure.Remark) []Block {
	var notes []procedure.Remark
	for _, m := range list {
		if m.Note != nil {
			notes = append(notes, m)
		}
	}
	return remarks(notes)
}

func figure(f *procedure.Figure) Figure {
	return Figure{Key: f.File, Type: f.Type, Data: f.Data, Caption: f.Alt, At: f.At}
}
