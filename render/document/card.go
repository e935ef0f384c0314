package document

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"time"

	"refitcard/compiler/assembly"
	"refitcard/compiler/compare"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Options choose what a paper says.
type Options struct {
	Variant string // the one variant that it is for; empty for all
	Units   string // metric or us: which unit prints first; empty: what the procedure or the library says

	Old *procedure.Procedure // the version that it is held against; nil for none
}

// statement is what stands at the foot of every paper: the library's own words, or ours with the name of the paper.
func statement(s *library.Settings, paper string) string {
	if s != nil && s.Statement != "" {
		return s.Statement
	}
	return "The maker's service information, local codes and licensed practice come before this " + paper + "."
}

// wrong is what to do when a card looks wrong, where a library does not say.
const wrong = "Stop, leave it safe, tell the foreman, write it on the record sheet."

// writer puts one card together.
type writer struct {
	p      *procedure.Procedure
	play   assembly.Play
	s      *library.Settings
	opt    Options
	us     bool
	boxes  int
	steps  int
	record *Record // where holds are signed
	table  []TorqueRow

	changed []source.Span // since the version that it is held against
	gone    int           // how many things of that are no more

	drawn map[*procedure.Layout]bool
}

// Card makes the job card of a procedure: what has to be known before starting, the steps, the marks at the end.
func Card(p *procedure.Procedure, plays []assembly.Play, s *library.Settings, opt Options) *JobCard {
	w := &writer{drawn: map[*procedure.Layout]bool{}, p: p, play: playOf(plays, opt.Variant), s: s, opt: opt, us: prefersUS(p, s, opt)}
	w.record = MakeRecord(PickInput{Proc: p, Plays: plays, Settings: s, Variant: opt.Variant})
	c := &JobCard{Header: header(p, opt.Variant), Foot: foot(s), Language: "en", Record: w.record}
	w.changes()
	c.Changed = w.changed
	c.Blocks = append(w.before(), w.stages()...)
	c.Blocks = append(c.Blocks, w.closing()...)
	c.End = End{Steps: w.steps, Boxes: w.boxes, Then: "Now finish the record sheet."}
	return c
}

// changes finds what says another thing than in the version that the card is held against.
func (w *writer) changes() {
	if w.opt.Old == nil {
		return
	}
	for _, c := range compare.Procedures(w.opt.Old, w.p) {
		if c.At.Known() {
			w.changed = append(w.changed, c.At)
		} else {
			w.gone++
		}
	}
}

// bars says where changes are seen. What is gone has no place on the card.
func (w *writer) bars() string {
	words := "a bar in the margin"
	if len(w.changed) == 0 {
		words = "nothing that is still there"
	}
	switch {
	case len(w.changed) == 0 && w.gone == 0:
		return "nothing in meaning"
	case w.gone == 1:
		words += "; 1 thing is gone, the review sheet names it"
	case w.gone > 1:
		words += fmt.Sprintf("; %d things are gone, the review sheet names them", w.gone)
	}
	return words
}

func prefersUS(p *procedure.Procedure, s *library.Settings, opt Options) bool {
	for _, u := range []string{opt.Units, p.Units.Value, s.Units} {
		if u != "" {
			return u == "us"
		}
	}
	return false
}

// header makes what stands at the head of every page.
func header(p *procedure.Procedure, variant string) Header {
	digest := source.Digest(p.Sources...)
	h := Header{
		Number: p.Number.Value, Revision: p.Revision.Value, Title: p.Title.Value, Machine: p.Machine.Value, Variant: variant,
		ShortDate: p.Date.Value, Date: longDate(p.Date.Value), Digest: digest[:4] + "-" + digest[4:], Draft: !p.Approved.Set(),
		At: p.Title.At,
	}
	h.Payload = alphanumeric(p.Number.Value) + " " + alphanumeric(p.Revision.Value) + " " + digest
	return h
}

// alphanumeric keeps the 45 characters of a scan code's alphanumeric mode.
func alphanumeric(s string) string {
	return strings.Map(func(r rune) rune {
		if 'a' <= r && r <= 'z' {
			r += 'A' - 'a'
		}
		if '0' <= r && r <= '9' || 'A' <= r && r <= 'Z' || strings.ContainsRune("$%*+-./:", r) {
			return r
		}
		return '-'
	}, s)
}

func longDate(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return t.Format("2 January 2006")
}

func foot(s *library.Settings) Foot {
	f := Foot{Lead: "Card looks wrong?", Wrong: s.Wrong, Statement: statement(s, "card")}
	if f.Wrong == "" {
		f.Wrong = wrong
	}
	return f
}

// before gathers what has to be known before starting.
func (w *writer) before() []Block {
	blocks := []Block{Heading{Text: "Before you start"}, Facts{w.facts()}}
	for _, m := range byLevel(w.p.Messages) {
		blocks = append(blocks, panel(m))
	}
	line := func(lead, words string, at source.Span) {
		if words != "" {
			blocks = append(blocks, Line{lead + ":", []Run{{Text: words}}, at})
		}
	}
	if n := w.p.Each.Count; n > 1 {
		line("Do this card", fmt.Sprintf("once for each of %s", procedure.CountName(n, w.p.Each.Name)), w.p.Each.At)
	}
	worn, at := w.wear()
	line("Wear", worn, at)
	line("Conditions", texts(w.p.Conditions), first(w.p.Conditions))
	line("Done before", w.starts(), w.startsAt())
	line("Rests on", texts(w.p.References), first(w.p.References))
	if w.opt.Old != nil {
		line("Changed since revision "+cmp.Or(w.opt.Old.Revision.Value, "?"), w.bars(), source.Span{})
	}
	for _, b := range remarks(w.p.Intro) {
		if n, ok := b.(Note); ok && !n.Head {
			b = Line{Runs: n.Runs, At: n.At} // as wide as the page: it is about the whole job
		}
		blocks = append(blocks, b)
	}
	return append(blocks, w.glance())
}

func texts(list []procedure.Text) string {
	var all []string
	for _, t := range list {
		all = append(all, t.Value)
	}
	return strings.Join(all, "; ")
}

// first is where a list of texts begins.
func first(list []procedure.Text) source.Span {
	if len(list) == 0 {
		return source.Span{}
	}
	return list[0].At
}

// startsAt is where starts says it from.
func (w *writer) startsAt() source.Span {
	if len(w.p.Starts) > 0 && !first(w.p.After).Known() {
		return w.p.Starts[0].At
	}
	return first(w.p.After)
}

// starts says what earlier jobs have done.
func (w *writer) starts() string {
	var all []string
	for _, a := range w.p.Starts {
		all = append(all, a.Words)
	}
	words := strings.Join(all, "; ")
	if after := texts(w.p.After); after != "" {
		if words != "" {
			return after + " (" + words + ")"
		}
		return after
	}
	return words
}

// wear gathers the protective equipment of all steps, each thing once, and gives the place of the first.
func (w *writer) wear() (worn string, at source.Span) {
	var all []string
	eachStep(w.p, w.opt.Variant, func(s *procedure.Step) {
		for _, t := range s.Wear {
			if !at.Known() {
				at = t.At
			}
			for _, piece := range strings.Split(strings.ReplaceAll(t.Value, " and ", ", "), ",") {
				if piece = strings.TrimSpace(piece); piece != "" && !slices.Contains(all, piece) {
					all = append(all, piece)
				}
			}
		}
	})
	return strings.Join(all, ", "), at
}

func (w *writer) facts() []Fact {
	people := w.p.People.Value
	if people == "" {
		people = "1"
	}
	facts := []Fact{{"People", people, w.p.People.At}}
	if t := w.time(); t != "" {
		facts = append(facts, Fact{"Time", t, w.p.TimeAt})
	}
	lift, liftAt := w.heaviest()
	isolated, isolatedAt := w.isolate()
	return append(facts, Fact{"Heaviest lift", lift, liftAt}, Fact{"Isolate", isolated, isolatedAt})
}

// time adds up the hands-on times and the waits; it prints only where every acting step has its time.
func (w *writer) time() string {
	total, known := new(big.Rat), true
	eachStep(w.p, w.opt.Variant, func(s *procedure.Step) {
		acting := false
		for _, a := range s.Acts {
			acting = acting || a.Verb.Ticks
			if a.Verb.Effect == verb.Wait && a.Amount != nil {
				total.Add(total, a.Amount.Middle())
			}
		}
		switch {
		case s.Takes != nil:
			total.Add(total, s.Takes.Middle())
		case acting && (s.Parent == nil || s.Parent.Takes == nil):
			known = false
		}
	})
	if !known || total.Sign() == 0 {
		return ""
	}
	minutes, _ := new(big.Rat).Quo(total, big.NewRat(60, 1)).Float64()
	n := int(minutes/5+0.999) * 5
	if n < 120 {
		return fmt.Sprintf("about %d min", n)
	}
	return fmt.Sprintf("about %d h %d min", n/60, n%60)
}

// heaviest is the heaviest part that is handled, and what lifts it, with the place where the part is declared.
func (w *writer) heaviest() (words string, at source.Span) {
	var most *procedure.Part
	lifted := ""
	eachStep(w.p, w.opt.Variant, func(s *procedure.Step) {
		for _, a := range s.Acts {
			for _, o := range a.Objects {
				if o.Part == nil || o.Part.Hardware.Mass == nil || !a.Verb.Ticks {
					continue
				}
				if most == nil || quantity.Cmp(*o.Part.Hardware.Mass, *most.Hardware.Mass) > 0 {
					most, lifted = o.Part, ""
				}
				if o.Part == most && lifted == "" {
					lifted = lifter(s)
				}
			}
		}
	})
	if most == nil {
		return "none", at
	}
	return most.Hardware.Mass.Running() + lifted, most.At
}

// lifter names the lifting tool of a step.
func lifter(s *procedure.Step) string {
	for _, a := range s.Acts {
		if a.Tool == nil {
			continue
		}
		if c := a.Tool.Choices[min(a.Choice, len(a.Tool.Choices)-1)]; c.Kind.Load != nil {
			return ", " + c.Name
		}
	}
	return ""
}

// isolate names what is isolated, and gives the place of the first act that does.
func (w *writer) isolate() (words string, at source.Span) {
	var all []string
	eachStep(w.p, w.opt.Variant, func(s *procedure.Step) {
		for _, a := range s.Acts {
			if a.Verb.Effect != verb.Isolate {
				continue
			}
			if !at.Known() {
				at = a.At
			}
			for _, o := range a.Objects {
				if !slices.Contains(all, o.Typed) {
					all = append(all, o.Typed)
				}
			}
		}
	})
	if len(all) == 0 {
		return "nothing", at
	}
	return strings.Join(all, ", "), at
}

// glance lists tools, new parts and supplies.
func (w *writer) glance() Glance {
	tools := GlanceList{Head: "Tools", Wide: true}
	others := othersOnly(PickInput{Proc: w.p, Variant: w.opt.Variant})
	for _, t := range w.p.Tools {
		if !others(t) {
			tools.Items = append(tools.Items, GlanceItem{Name: t.Whole, At: t.At})
		}
	}
	parts, worn := GlanceList{Head: "New parts"}, GlanceList{Head: "If worn", Below: true}
	for _, p := range w.p.Parts {
		if !p.In(w.opt.Variant) {
			continue
		}
		item := GlanceItem{fmt.Sprint(p.Qty), p.Name.Value, p.At}
		switch {
		case p.Use == procedure.ReplaceUse, p.Use == procedure.Add && !p.UpTo:
			parts.Items = append(parts.Items, item)
		case p.UpTo:
			worn.Items = append(worn.Items, GlanceItem{"up to " + item.Count, item.Name, p.At})
		case p.Use == procedure.IfWorn:
			worn.Items = append(worn.Items, item)
		}
	}
	supplies := GlanceList{Head: "Supplies"}
	for _, s := range w.p.Supplies {
		if !others(s) {
			supplies.Items = append(supplies.Items, supplyItem(s))
		}
	}
	g := Glance{}
	for _, l := range []GlanceList{tools, parts, worn, supplies} {
		if len(l.Items) == 0 {
			if l.Head == "If worn" {
				continue
			}
			l.Items = []GlanceItem{{Name: "none"}}
		}
		g.Lists = append(g.Lists, l)
	}
	return g
}

func supplyItem(s *procedure.Supply) GlanceItem {
	item := GlanceItem{Name: s.Name.Value, At: s.At}
	switch {
	case s.Quantity != nil:
		item.Count = s.Quantity.Running()
	case s.Count > 0:
		item.Count = fmt.Sprint(s.Count)
	}
	if s.Detail != "" {
		item.Name += ", " + s.Detail
	}
	if s.FromMachine {
		item.Name += ", from the machine"
	}
	return item
}
