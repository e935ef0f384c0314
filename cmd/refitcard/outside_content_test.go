package main

import (
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"refitcard/compiler/procedure"
	"refitcard/compiler/verb"
	"refitcard/render/document"
)

// In this file all that a sheet has to say is looked for among the words that another program finds on it.

// words puts runs together.
func words(runs []document.Run) string {
	var b strings.Builder
	for _, r := range runs {
		b.WriteString(r.Text)
	}
	return b.String()
}

// opening is how an act, a hold or a handover begins on the card.
func opening(a document.Act) string {
	switch {
	case a.Hold != nil:
		return "HOLD for " + a.Hold.For + a.Hold.Why
	case a.Handover != nil:
		return "HANDOVER: the job may be left here"
	}
	return words(a.Runs)
}

// eachAct hands over each act of a card with the byte behind its words on the sheet, -1 if they are missing.
func eachAct(c *document.JobCard, r *readSheet, use func(document.Step, document.Act, int)) {
	at := 0
	for _, b := range c.Blocks {
		s, ok := b.(document.Step)
		if !ok {
			continue
		}
		for _, a := range s.Acts {
			found, end := r.find(opening(a), at)
			if found == nil {
				use(s, a, -1)
				continue
			}
			at = end
			use(s, a, end)
		}
	}
}

// readThings hands over all that is read while working: messages, acts, values, in the order of the card.
func readThings(c *document.JobCard, use func(what, said string)) {
	panel := func(p document.Panel) {
		use("message", p.Signal)
		use("message", words(p.Hazard))
		use("message", words(p.Consequence))
		use("message", words(p.Avoid))
	}
	for _, b := range c.Blocks {
		switch b := b.(type) {
		case document.Panel:
			panel(b)
		case document.Step:
			for _, p := range b.Panels {
				panel(p)
			}
			for _, a := range b.Acts {
				use("step "+b.Name, opening(a))
				for _, l := range a.Lines {
					use("step "+b.Name, l)
				}
				if t := a.Torque; t != nil && t.Figure != "" {
					use("torque of step "+b.Name, t.Figure+t.Unit)
				}
				for _, box := range a.Boxes {
					use("limits of step "+b.Name, box.Limits+box.Unit)
				}
				if a.Passes != nil {
					for _, r := range a.Passes.Rows {
						use("passes of step "+b.Name, r.Name+r.Figure)
					}
				}
			}
		}
	}
}

// A seeker goes through the words of a sheet from front to back.
type seeker struct {
	t    *testing.T
	r    *readSheet
	at   int
	page int // of what was found last
	n    int // how much was found

	torques, limits int // of the model
}

// say demands words behind those found last. The parts of a thing stand right behind each other.
func (s *seeker) say(what string, parts ...string) {
	s.t.Helper()
	said := strings.Join(parts, "")
	if squeeze(said) == "" {
		return
	}
	found, end := s.r.find(said, s.at)
	if found == nil {
		state := "is missing"
		if early, _ := s.r.find(said, 0); early != nil {
			state = fmt.Sprintf("stands too early, on page %d", early[0].page+1)
		}
		s.t.Errorf("%s: %q %s; before it %q", what, said, state, s.r.flat[max(0, s.at-40):s.at])
		return
	}
	s.at, s.page = end, found[0].page
	s.n++
}

// has demands words anywhere on the sheet.
func (s *seeker) has(what string, parts ...string) {
	s.t.Helper()
	said := strings.Join(parts, "")
	if found, _ := s.r.find(said, 0); found == nil && squeeze(said) != "" {
		s.t.Errorf("%s: %q is missing", what, said)
	}
	s.n++
}

// revision is the word before a revision: on A6 the whole of it may not fit beside the page.
func (r *readSheet) revision(h document.Header) string {
	if found, _ := r.find(h.Number+"Rev."+h.Revision, 0); found != nil && r.width < 120 {
		return "Rev."
	}
	return "Revision"
}

func (s *seeker) panel(p document.Panel) {
	s.t.Helper()
	s.say("message", p.Signal, words(p.Hazard), words(p.Consequence), words(p.Avoid))
}

func TestNothingIsMissingOnTheCards(t *testing.T) {
	var torques, limits atomic.Int64
	eachSheet(t, jobCards, func(t *testing.T, p printedSheet) {
		card := p.card()
		s := &seeker{t: t, r: readBack(t, p.file)}
		h := card.Header
		for page := range s.r.pages {
			s.has("header", h.Number, s.r.revision(h), h.Revision)
			s.has("header", fmt.Sprintf("Page %d of %d", page+1, s.r.pages))
		}
		s.say("title", h.Title)
		s.say("machine", h.Machine)
		s.say("digest", h.Digest)
		s.has("foot", card.Foot.Lead, card.Foot.Wrong)
		s.has("foot", card.Foot.Statement)
		for i, b := range card.Blocks {
			s.block(b, card.Blocks[i+1:])
		}
		s.say("end", "End of card", fmt.Sprint(card.End.Steps), "step")
		s.say("end", card.End.Then)
		if s.n < 30 {
			t.Errorf("only %d things were looked for", s.n)
		}
		s.declared(p, 1) // a card for each of several wheels is done once for each
		s.done(p)
		torques.Add(int64(s.torques))
		limits.Add(int64(s.limits))
	})
	t.Cleanup(func() { // when the sheets, which are read several at a time, are through
		if torques.Load() < 150 || limits.Load() < 100 {
			t.Errorf("only %d torques and %d limits were looked for", torques.Load(), limits.Load())
		}
	})
}

// declared looks for what the procedure declares, in the model itself: each tool, new part and supply. The parts are drawn for so many
// times that the job is done.
func (s *seeker) declared(p printedSheet, times int) {
	others := p.othersOnly()
	for _, tool := range p.job.Proc.Tools {
		for _, c := range tool.Choices {
			if !others[tool] {
				s.has("tool", c.Name)
			}
		}
	}
	for _, supply := range p.job.Proc.Supplies {
		if !supply.FromMachine && !others[supply] {
			s.has("supply", supply.Name.Value)
		}
	}
	for _, part := range p.job.Proc.Parts {
		if part.In(p.variant) && part.Use != procedure.Reuse && part.Use != procedure.Omit {
			s.has("part", fmt.Sprint(part.Qty*times), part.Name.Value)
		}
	}
}

// othersOnly gives the tools and supplies that other variants use, and this one does not.
func (p printedSheet) othersOnly() map[any]bool {
	others := map[any]bool{}
	note := func(p printedSheet, only bool) {
		p.acts(func(_ *procedure.Step, act *procedure.Act) {
			if act.Tool != nil {
				others[act.Tool] = only
			}
			for _, o := range slices.Concat(act.Objects, act.Mentions) {
				if o.Tool != nil {
					others[o.Tool] = only
				}
				if o.Supply != nil {
					others[o.Supply] = only
				}
			}
		})
	}
	all := p
	all.variant = ""
	note(all, true)
	note(p, false)
	return others
}

// done looks for what the model of the procedure does and warns of, without the help of the card's own blocks.
func (s *seeker) done(p printedSheet) {
	said := func(runs []procedure.Run) string {
		var b strings.Builder
		for _, r := range runs {
			b.WriteString(r.Text)
		}
		return b.String()
	}
	for _, m := range p.job.Proc.Messages {
		s.has("message of the job", m.Signal, said(m.Hazard), said(m.Rest))
	}
	var walk func([]*procedure.Step)
	walk = func(steps []*procedure.Step) {
		for _, step := range steps {
			if len(step.For) > 0 && p.variant != "" && !slices.ContainsFunc(step.For, func(t procedure.Text) bool { return t.Value == p.variant }) {
				continue
			}
			for _, m := range step.Messages {
				s.has("message of step "+step.Name(), m.Signal, said(m.Hazard), said(m.Rest))
			}
			for _, act := range step.Acts {
				s.deed("step "+step.Name(), act, p.variant)
			}
			walk(step.Steps)
		}
	}
	for _, stage := range p.job.Proc.Stages {
		for _, m := range stage.Messages {
			s.has("message of "+stage.Title.Value, m.Signal, said(m.Hazard), said(m.Rest))
		}
		walk(stage.Steps)
	}
}

// deed demands the words of an act on a part, its torque and its limits.
func (s *seeker) deed(what string, act *procedure.Act, variant string) {
	torque, parts := act.Torque, false
	for _, o := range act.Objects {
		if o.Part == nil {
			continue
		}
		parts = true
		if part := o.Part.For(variant); part != nil && act.Verb.Effect == verb.DoTorque && !torque.Written && torque.Value == nil && torque.Angle == nil {
			torque = part.Torque
		}
	}
	if parts && act.Verb.Name != "part" && !strings.Contains(strings.ToLower(s.r.flat), strings.ToLower(squeeze(act.Words))) {
		s.t.Errorf("%s: %q is missing", what, act.Words)
	}
	if torque.Value != nil && act.Verb.Effect == verb.DoTorque {
		figure, unit := torque.Value.Boxed()
		s.has("torque of "+what, figure, unit)
		s.torques++
	}
	if act.Limit != nil {
		figure, unit := act.Limit.Boxed()
		s.has("limit of "+what, figure, unit)
		s.limits++
	}
}

func (s *seeker) block(b document.Block, rest []document.Block) {
	switch b := b.(type) {
	case document.Heading:
		s.say("heading", b.Text)
	case document.Facts:
		s.facts(b)
	case document.Line:
		s.say("line", b.Lead, words(b.Runs))
	case document.Glance:
		for _, l := range b.Lists {
			s.has("list", l.Head)
			for _, i := range l.Items {
				s.has("list "+l.Head, i.Count, i.Name)
			}
		}
	case document.Stage:
		s.say("stage", b.Title, b.Range)
	case document.Panel:
		s.panel(b)
		s.before(b, rest)
	case document.Note:
		s.say("note", words(b.Runs))
	case document.Figure:
		s.say("figure", b.Caption)
	case document.Layout:
		s.layout(b)
	case document.Pile:
		s.pile(b)
	case document.Step:
		s.step(b)
	case document.TorqueTable:
		for _, r := range b.Rows {
			then, second := r.Then, ""
			if then != "" {
				then = "," + then
			}
			if r.Second != "" {
				second = r.Second + r.SecondUnit
			}
			s.say("table of torques", r.Step, r.What, r.Figure, r.Unit, then, second)
		}
	case document.After:
		for _, l := range b.Lines {
			s.say("after the job", l.Lead, words(l.Runs))
		}
	default:
		s.t.Errorf("nobody looks for a %T", b)
	}
}

// facts stand in rows; their labels and values may be read row by row.
func (s *seeker) facts(b document.Facts) {
	for _, f := range b.Facts {
		s.say("fact", f.Label, f.Value)
	}
}

// before demands that a message stands on the page of the step after it.
func (s *seeker) before(p document.Panel, rest []document.Block) {
	for _, b := range rest {
		switch b := b.(type) {
		case document.Panel:
			continue
		case document.Step:
			if found, _ := s.r.find(b.Name+b.Condition.Takes, s.at); len(found) > 0 && found[0].page != s.page {
				s.t.Errorf("%s %q stands on page %d, its step %s on page %d", p.Signal, words(p.Hazard), s.page+1, b.Name, found[0].page+1)
			}
		}
		return
	}
}

func (s *seeker) step(b document.Step) {
	page := -1
	for _, p := range b.Panels {
		s.panel(p)
		if page >= 0 && page != s.page {
			s.t.Errorf("step %s: its messages stand on pages %d and %d", b.Name, page+1, s.page+1)
		}
		page = s.page
	}
	number := true // the number stands before the first thing of the step
	name := func() string {
		if number {
			number = false
			return b.Name + b.Condition.Takes
		}
		return ""
	}
	for _, k := range b.Before {
		switch k := k.(type) {
		case document.Note:
			s.say("note of step "+b.Name, name(), words(k.Runs))
		default:
			s.say("step", name())
			s.block(k, nil)
		}
	}
	for _, c := range conditions(b.Condition) {
		s.say("condition of step "+b.Name, name(), c)
	}
	if len(b.Acts) == 0 {
		s.t.Errorf("step %s has its number and nothing to do", b.Name)
	}
	for i, a := range b.Acts {
		said := opening(a)
		s.say("step "+b.Name, name(), said)
		if i == 0 && page >= 0 && page != s.page {
			s.t.Errorf("step %s stands on page %d, its messages on page %d", b.Name, s.page+1, page+1)
		}
		if page >= 0 && page != s.page { // the step goes on over the page
			s.again(b)
			page = s.page
		}
		s.act("step "+b.Name, a)
	}
}

func conditions(c document.Condition) []string {
	var all []string
	if c.If != "" {
		all = append(all, "If "+c.If+":")
	}
	if c.Otherwise {
		all = append(all, "Otherwise:")
	}
	for _, v := range c.For {
		all = append(all, "Only for "+v+":")
	}
	if c.Repeat != "" {
		all = append(all, c.Repeat+":")
	}
	if c.If != "" {
		all = append(all, "not needed")
	}
	return all
}

// again demands the messages of a step once more on the page where it goes on.
func (s *seeker) again(b document.Step) {
	var here strings.Builder
	for _, w := range s.r.words {
		if w.page == s.page {
			here.WriteString(squeeze(w.text))
		}
	}
	want := []string{b.Name + "continued"}
	for _, p := range b.Panels {
		whole := p.Signal + words(p.Hazard) + words(p.Consequence) + words(p.Avoid)
		if s.r.height < 120 && !strings.Contains(here.String(), squeeze(whole)) {
			whole = p.Signal + ":" + words(p.Hazard) // on A6 on its side a message and an act may fill a page each
		}
		want = append(want, whole)
	}
	for _, w := range want {
		if !strings.Contains(here.String(), squeeze(w)) {
			s.t.Errorf("step %s goes on on page %d, and %q is not said there again", b.Name, s.page+1, w)
		}
	}
}

func (s *seeker) act(what string, a document.Act) {
	for _, l := range a.Lines {
		s.say(what, l)
	}
	if h := a.Hold; h != nil && h.Next != "" {
		s.say(what, "Then go on to step "+h.Next)
	}
	if a.Handover != nil {
		for _, l := range a.Handover.Lines {
			s.say(what, l.Label, ":", l.Words)
		}
	}
	if t := a.Torque; t != nil {
		if t.Figure != "" {
			s.say("torque of "+what, t.Figure, t.Unit, t.Second, secondUnit(t.Second, t.SecondUnit), t.Set, t.Angle, t.Dial)
		} else {
			s.say("torque of "+what, t.Set, t.Angle, t.Dial)
		}
	}
	for _, b := range a.Boxes {
		s.say("limits of "+what, b.Place, b.Limits, b.Unit)
	}
	if p := a.Passes; p != nil {
		for i, r := range p.Rows {
			if i == 0 {
				s.say("passes of "+what, p.Unit, p.SecondUnit, r.Name, r.Figure, r.Second)
				continue
			}
			s.say("passes of "+what, r.Name, r.Figure, r.Second)
		}
		s.say("passes of "+what, p.Below)
		if p.Layout != nil {
			s.layout(*p.Layout)
		}
	}
	for _, f := range a.Figures {
		s.say("figure of "+what, f.Caption)
	}
}

func secondUnit(second, unit string) string {
	if second == "" {
		return ""
	}
	return unit
}

// layout demands the numbers of a drawing, in the order in which the places are drawn.
func (s *seeker) layout(b document.Layout) {
	for _, p := range b.Places {
		if p.Order > 0 {
			s.say("drawing of the "+b.Part, fmt.Sprint(p.Order))
		}
	}
}

func (s *seeker) pile(b document.Pile) {
	s.say("stack", b.Name, ":", b.Target)
	for _, l := range slices.Backward(b.Layers) {
		s.say("stack "+b.Name, l)
	}
}

func TestNothingIsMissingOnThePickLists(t *testing.T) {
	eachSheet(t, pickLists, func(t *testing.T, p printedSheet) {
		list := p.pick()
		s := &seeker{t: t, r: readBack(t, p.file)}
		s.say("header", list.Header.Number, s.r.revision(list.Header), list.Header.Revision)
		s.say("title", "Pick list", list.Header.Title)
		s.say("machine", list.Header.Machine)
		narrow := s.r.width < 180
		for _, section := range []struct {
			name string
			rows []document.PickRow
		}{{"parts", list.Parts}, {"parts as required", list.AsRequired}, {"supplies", list.Supplies}, {"tools", list.Tools}} {
			for _, r := range section.rows {
				number := r.Number
				switch section.name {
				case "supplies":
					number = r.Needs
				case "tools":
					number = r.Serial
				}
				if narrow && number != "" {
					number = map[string]string{"supplies": "the job needs ", "tools": "serial "}[section.name] + number
				}
				item := []string{r.Bin, r.Draw, r.Item}
				for _, more := range []string{r.Detail, number} {
					if more != "" && (narrow || more == r.Detail) {
						item = append(item, ", ", more)
					}
				}
				if !narrow {
					item = append(item, number)
				}
				if r.Signed && r.Serial == "" && narrow {
					item = append(item, "Serial, calibrated to")
				}
				s.say(section.name, append(item, r.First)...)
			}
		}
		if len(list.Tools) > 0 {
			s.say("tools", fmt.Sprint(list.ToolsInAll), fmt.Sprint(list.ToolsInAll), "tool")
		}
		for _, b := range list.Bags {
			detail := b.Detail
			if detail != "" {
				detail = ", " + detail
			}
			s.say("hardware bags", b.Letter, fmt.Sprint(b.Count), b.Item, detail)
			for _, step := range []string{b.Off, b.On} {
				if step != "" {
					s.say("hardware bags", "step ", step)
				}
			}
		}
		s.declared(p, max(p.job.Proc.Each.Count, 1))
		if s.n < 5 {
			t.Errorf("only %d things were looked for", s.n)
		}
	})
}
