package resolve

import (
	"slices"

	"refitcard/compiler/procedure"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// intro reads what stands before the first heading: notes, figures, safety messages, waivers of the declarations.
func (r *resolver) intro(t *syntax.Tree) {
	for _, b := range t.Intro {
		switch b := b.(type) {
		case *syntax.Quote:
			if m := r.message(b); m != nil {
				r.p.Messages = append(r.p.Messages, m)
				continue
			}
			r.p.Intro = append(r.p.Intro, r.quoteNote(b)...)
		default:
			if includeTag(b) == nil {
				r.p.Intro = append(r.p.Intro, r.remarks(b, "the introduction")...)
			}
		}
	}
}

// stages reads the stages of a tree, with those of its includes at their places.
func (r *resolver) stages(t *syntax.Tree) {
	for _, b := range t.Intro {
		r.takeIn(b)
	}
	for _, s := range t.Sections {
		if declares(t, s) == "" {
			r.oneStage(s)
		}
	}
}

// takeIn plays an include at its place.
func (r *resolver) takeIn(b syntax.Block) bool {
	tag := includeTag(b)
	if tag == nil {
		return false
	}
	at := tag.Body.At(0, len(tag.Body.Text))
	for _, i := range r.in.Includes {
		if i.At != at {
			continue
		}
		before, was := len(r.p.Stages), r.included
		r.included = true
		r.stages(i.Tree)
		r.included = was
		r.ownMessages(i.Tree, before)
	}
	return true
}

// ownMessages puts the safety messages of an included file's introduction before its first stage.
func (r *resolver) ownMessages(t *syntax.Tree, first int) {
	var messages []*procedure.Message
	for _, b := range t.Intro {
		if q, ok := b.(*syntax.Quote); ok {
			if m := r.message(q); m != nil {
				messages = append(messages, m)
			}
		}
	}
	if len(messages) == 0 {
		return
	}
	if first < len(r.p.Stages) {
		s := r.p.Stages[first]
		s.Messages = append(messages, s.Messages...)
		return
	}
	r.p.Messages = append(r.p.Messages, messages...)
}

// pending is what stands between steps and waits for the next one.
type pending struct {
	remarks  []procedure.Remark
	messages []*procedure.Message
	layouts  []*syntax.Layout
	stacks   []*syntax.Stack
}

func (r *resolver) oneStage(s *syntax.Section) {
	stage := &procedure.Stage{Title: procedure.Text{Value: s.Title, At: s.TitleAt}, At: s.At}
	r.stage = stage
	var wait pending
	only := true // nothing but includes: the heading does not print
	placed := false
	place := func() {
		if !placed {
			placed = true
			r.p.Stages = append(r.p.Stages, stage)
		}
	}
	for _, b := range s.Blocks {
		if includeTag(b) != nil {
			if !only {
				place()
			}
			r.takeIn(b)
			r.stage = stage
			continue
		}
		only = false
		place()
		r.stageBlock(stage, b, &wait)
	}
	for _, m := range wait.messages {
		m.Late = len(stage.Steps) > 0
		stage.Messages = append(stage.Messages, m)
	}
	stage.Tail = append(stage.Tail, wait.remarks...)
	for _, l := range wait.layouts {
		r.layout(l, nil)
	}
	for _, k := range wait.stacks {
		r.stack(k, nil)
	}
	if !placed && len(s.Blocks) == 0 {
		place()
	}
}

func (r *resolver) stageBlock(stage *procedure.Stage, b syntax.Block, wait *pending) {
	switch b := b.(type) {
	case *syntax.List:
		if !b.Ordered {
			wait.remarks = append(wait.remarks, r.bullets(b)...)
			return
		}
		stage.Steps = slices.Grow(stage.Steps, len(b.Items))
		made := make([]procedure.Step, len(b.Items))
		for i, item := range b.Items {
			stage.Steps = append(stage.Steps, r.oneStep(&made[i], item, nil, wait))
			*wait = pending{}
		}
	case *syntax.Quote:
		if m := r.message(b); m != nil {
			if len(stage.Steps) == 0 {
				stage.Messages = append(stage.Messages, m)
			} else {
				wait.messages = append(wait.messages, m)
			}
			return
		}
		wait.remarks = append(wait.remarks, r.quoteNote(b)...)
	case *syntax.Layout:
		wait.layouts = append(wait.layouts, b)
	case *syntax.Stack:
		wait.stacks = append(wait.stacks, b)
	default:
		wait.remarks = append(wait.remarks, r.remarks(b, "prose between steps")...)
	}
}

// oneStep reads an item of an ordered list into a step that is empty.
func (r *resolver) oneStep(s *procedure.Step, item *syntax.Item, parent *procedure.Step, wait *pending) *procedure.Step {
	s.At, s.Stage, s.Parent, s.Terms = item.At, r.stage, parent, procedure.NoTerms
	s.Runs, s.Acts = r.runs.begin(), r.actLists.begin()
	if parent == nil {
		r.number++
		s.Number = r.number
	} else {
		s.Number = parent.Number
		s.Sub = parent.Sub + string(rune('a'+len(parent.Steps)%26))
	}
	outer := r.step
	r.step = s
	if wait != nil {
		s.Before, s.Messages = wait.remarks, wait.messages
		for _, m := range s.Messages {
			m.Step = s.Number
		}
		for _, l := range wait.layouts {
			r.layout(l, s)
		}
		for _, k := range wait.stacks {
			r.stack(k, s)
		}
	}
	w := writer{r: r, step: s}
	for _, b := range item.Blocks {
		r.stepBlock(s, b, &w)
	}
	w.lateMessages()
	r.end(s)
	r.step = outer
	return s
}

// end ends the lists of a step, so that others may be begun. What still comes to them, comes to a copy.
func (r *resolver) end(s *procedure.Step) {
	s.Runs, s.Acts = r.runs.end(s.Runs), r.actLists.end(s.Acts)
}

func (r *resolver) stepBlock(s *procedure.Step, b syntax.Block, w *writer) {
	switch b := b.(type) {
	case *syntax.Paragraph:
		if len(s.Runs) > 0 {
			s.Runs = append(s.Runs, procedure.Run{End: true, At: b.At})
		}
		w.paragraph(b.Text)
	case *syntax.Heading:
		w.paragraph(b.Text)
	case *syntax.List:
		r.end(s)
		if !b.Ordered {
			s.Notes = append(s.Notes, r.bullets(b)...)
			return
		}
		for _, item := range b.Items {
			s.Steps = append(s.Steps, r.oneStep(&procedure.Step{}, item, s, nil))
		}
	case *syntax.Quote:
		if m := r.message(b); m != nil {
			m.Step = s.Number
			s.Messages = append(s.Messages, m)
			w.said = append(w.said, said{m, len(s.Acts)})
			return
		}
		r.end(s)
		s.Notes = append(s.Notes, r.quoteNote(b)...)
	case *syntax.Layout:
		r.layout(b, s)
	case *syntax.Stack:
		r.stack(b, s)
	}
}

// bullets turns a list of bullets into notes.
func (r *resolver) bullets(l *syntax.List) []procedure.Remark {
	var all []procedure.Remark
	for _, item := range l.Items {
		for _, b := range item.Blocks {
			all = append(all, r.remarks(b, "a note")...)
		}
	}
	return all
}

// remarks turns prose into notes and figures.
func (r *resolver) remarks(b syntax.Block, place string) []procedure.Remark {
	switch b := b.(type) {
	case *syntax.Paragraph:
		return r.prose(b.Text, place, nil)
	case *syntax.Heading:
		return r.prose(b.Text, place, func(n *procedure.Note) { n.Head = true })
	case *syntax.List:
		return r.bullets(b)
	case *syntax.Quote:
		return r.quoteNote(b)
	case *syntax.Layout:
		r.layout(b, r.step)
	case *syntax.Stack:
		r.stack(b, r.step)
	case *syntax.Table:
		return r.tableNote(b)
	}
	return nil
}

// tableNote prints a table that is none of ours as a note, a row a line.
func (r *resolver) tableNote(t *syntax.Table) []procedure.Remark {
	n := &procedure.Note{At: t.At}
	line := func(cells []syntax.Cell) {
		if len(n.Runs) > 0 {
			n.Runs = append(n.Runs, procedure.Run{End: true})
		}
		for i, c := range cells {
			if i > 0 {
				n.Runs = append(n.Runs, procedure.Run{Text: "; "})
			}
			n.Runs = append(n.Runs, procedure.Run{Text: c.Text, At: c.At})
		}
	}
	line(t.Head)
	for _, row := range t.Rows {
		line(row.Cells)
	}
	return []procedure.Remark{{Note: n}}
}

func (r *resolver) quoteNote(q *syntax.Quote) []procedure.Remark {
	if q.Question {
		return nil
	}
	return r.prose(q.Text, "a note", nil)
}

// allowed tells which verbs may stand where nothing is done.
func allowed(place string, v *verb.Verb) bool {
	switch v.Effect {
	case verb.UseTool, verb.Speak, verb.Spend, verb.Number:
		return place == "a note" || place == "prose between steps" || place == "the introduction" || v.Effect == verb.Number && place == "a safety message"
	case verb.Include, verb.Waived:
		return place == "prose between steps" || place == "the introduction" || place == "the declarations"
	}
	return false
}

// prose turns running text that is no step into a note and its figures. Tags that act are misplaced there.
func (r *resolver) prose(list []syntax.Inline, place string, with func(*procedure.Note)) []procedure.Remark {
	n := r.notes.one()
	n.Runs = r.runs.begin()
	var figures []procedure.Remark
	for _, i := range list {
		switch i := i.(type) {
		case *syntax.Image:
			figures = append(figures, procedure.Remark{Figure: r.figure(i)})
		case *syntax.Text:
			n.Runs = append(n.Runs, procedure.Run{Text: i.Text, At: i.At, Code: i.Code, Weight: weight(i.Bold)})
		case *syntax.Break:
			n.Runs = append(n.Runs, procedure.Run{End: true, At: i.At})
		case *syntax.Tag:
			if run, ok := r.proseTag(i, place); ok {
				n.Runs = append(n.Runs, run)
			}
		}
		if n.At.File == nil {
			n.At = i.Span()
		} else {
			n.At = n.At.To(i.Span())
		}
	}
	n.Runs = trimRuns(r.runs.end(n.Runs))
	if len(n.Runs) == 0 {
		return figures
	}
	if with != nil {
		with(n)
	}
	return append([]procedure.Remark{{Note: n}}, figures...)
}

func weight(bold bool) procedure.Weight {
	if bold {
		return procedure.Strong
	}
	return procedure.Plain
}

// trimRuns cuts blank runs off both ends.
func trimRuns(runs []procedure.Run) []procedure.Run {
	blank := func(r *procedure.Run) bool {
		return r.Act == nil && r.Step == nil && (r.End || len(r.Text) == 0 || r.Text == " ")
	}
	for len(runs) > 0 && blank(&runs[0]) {
		runs = runs[1:]
	}
	for len(runs) > 0 && blank(&runs[len(runs)-1]) {
		runs = runs[:len(runs)-1]
	}
	return runs
}

// proseTag gives what a tag in prose prints; false for nothing.
func (r *resolver) proseTag(t *syntax.Tag, place string) (procedure.Run, bool) {
	if t.Verb == nil {
		return procedure.Run{}, false
	}
	if !allowed(place, t.Verb) {
		where := "a step"
		if t.Verb.Effect == verb.Include {
			where = "a paragraph of its own"
		}
		r.fault("tag/misplaced", t.At, t.Verb.Name, place, where)
		return procedure.Run{}, false
	}
	switch t.Verb.Effect {
	case verb.Waived:
		r.waive(t)
		return procedure.Run{}, false
	case verb.Include:
		r.fault("tag/misplaced", t.At, t.Verb.Name, "the middle of a paragraph", "a paragraph of its own")
		return procedure.Run{}, false
	case verb.Number:
		return r.numberRun(t), true
	}
	a := r.act(t)
	if a != nil {
		r.p.Spoken = append(r.p.Spoken, a)
		if r.step != nil {
			r.step.Acts = append(r.step.Acts, a)
		}
	}
	return procedure.Run{Text: t.Body.Text, At: t.At, Keep: len(t.Body.Text) <= 20}, true
}

func (r *resolver) figure(i *syntax.Image) *procedure.Figure {
	f := &procedure.Figure{At: i.At, Path: procedure.Text{Value: i.Path, At: i.PathAt}, Alt: i.Alt}
	if f.Alt == "" {
		r.fault("figure/no-caption", i.At, i.Path)
	}
	return f
}
