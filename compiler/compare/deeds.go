package compare

import (
	"crypto/sha256"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// deed is the smallest thing that a procedure does or says and that may change: a verb upon one thing, a safety message, the
// condition of a step. A version is a row of them.
type deed struct {
	kind   Kind
	verb   string // the verb, or the word of what is no act: "message", "if", "says"
	about  string // what it is done to, folded; empty where the words are all there is
	what   string // as people say it: "remove end cover"
	gist   string // the meaning of all its words
	traits []trait
	refs   []string // numbers of steps that its words name
	step   *procedure.Step
	at     source.Span
	loose  bool // its place within the step says nothing: a tool, a supply, what is worn
	paired bool // two of one verb at one place are the same deed with other words
}

// trait is one thing that a deed says of itself.
type trait struct {
	field
	label string
}

func (d *deed) key() string { return d.verb + "\x00" + d.about }

// stepWords finds a step that is named by its number.
var stepWords = regexp.MustCompile(`(?i)\bsteps?[ \x{a0}](\d+[a-z]?)\b`)

// unnumbered gives a text without the numbers of steps, and those numbers.
func unnumbered(s string) (string, []string) {
	var refs []string
	for _, m := range stepWords.FindAllStringSubmatch(s, -1) {
		refs = append(refs, m[1])
	}
	return stepWords.ReplaceAllString(s, "step"), refs
}

// reader turns one version into deeds. names and tools are for the old version: what its parts and tools are called now.
type reader struct {
	p     *procedure.Procedure
	names map[string]string
	tools map[*procedure.Tool]string
	known map[string]bool // words of names of parts: "from the cover" behind a cover bolt says nothing
	deeds []deed
}

func deedsOf(p *procedure.Procedure, names map[string]string, tools map[*procedure.Tool]string) []deed {
	r := &reader{p: p, names: names, tools: tools, known: map[string]bool{}}
	for _, x := range p.Parts {
		for _, w := range words(x.Name.Value) {
			r.known[singular(w)] = true
		}
	}
	for _, s := range p.Stages {
		r.deeds = append(r.deeds, messagesOf(s.Messages, firstStep(s))...)
		for _, x := range s.Steps {
			r.read(x)
		}
		r.remarks(s.Tail, nil)
	}
	return r.deeds
}

func firstStep(s *procedure.Stage) *procedure.Step {
	if len(s.Steps) == 0 {
		return nil
	}
	return s.Steps[0]
}

// worded makes a deed that is all words: two of them at one place are one that was worded anew.
func worded(kind Kind, verb, what, text string, meaning func(string) string, step *procedure.Step, at source.Span) deed {
	bare, refs := unnumbered(text)
	return deed{
		kind: kind, verb: verb, what: what, gist: gist(bare), step: step, at: at, paired: true, refs: refs,
		traits: []trait{{field{meaning(bare), cut(text)}, "words"}},
	}
}

func messagesOf(list []*procedure.Message, step *procedure.Step) []deed {
	var all []deed
	for _, m := range list {
		d := worded(Message, "message", m.Signal, procedure.RunText(m.Runs), gist, step, m.At)
		d.what = "safety message"
		d.gist = m.Signal + " " + d.gist
		d.traits = append([]trait{{field{m.Signal, m.Signal}, "level"}}, d.traits...)
		all = append(all, d)
	}
	return all
}

func (r *reader) remarks(list []procedure.Remark, step *procedure.Step) {
	for _, m := range list {
		switch {
		case m.Figure != nil:
			sum := fmt.Sprintf("%x", sha256.Sum256(m.Figure.Data))
			r.deeds = append(r.deeds, deed{
				kind: Drawing, verb: "figure", what: "picture", gist: sum, step: step, at: m.Figure.At, paired: true,
				traits: []trait{{field{sum, cut(m.Figure.Alt)}, "picture"}},
			})
		case m.Note != nil:
			r.says("note", "note", procedure.RunText(m.Note.Runs), step, m.Note.At)
		}
	}
}

// says adds prose that is not interpreted: only its figures, and words that turn a meaning, count.
func (r *reader) says(verb, what, text string, step *procedure.Step, at source.Span) {
	if bare, _ := unnumbered(text); telling(bare) != "" {
		d := worded(Act, verb, what, text, telling, step, at)
		d.loose = true
		r.deeds = append(r.deeds, d)
	}
}

// read adds a step and its sub-steps.
func (r *reader) read(s *procedure.Step) {
	r.remarks(s.Before, s)
	r.condition(s)
	r.deeds = append(r.deeds, messagesOf(s.Messages, s)...)
	from := len(r.deeds)
	for _, a := range s.Acts {
		r.act(a, s)
	}
	settle(r.deeds[from:])
	prose := r.prose(s)
	if len(r.deeds) == from && len(words(prose)) > 0 && len(s.Steps) == 0 {
		r.deeds = append(r.deeds, worded(Act, "words", "the step", prose, telling, s, s.At))
	} else {
		r.says("says", "what it says beside its tags", prose, s, s.At)
	}
	for _, w := range r.p.Waivers {
		if w.Step == s {
			r.deeds = append(r.deeds, deed{
				kind: Act, verb: "waive", about: w.Rule.Value + " " + w.Thing, what: "waiver of " + w.Rule.Value, step: s, at: w.At, loose: true,
				traits: []trait{{field{"", cut(w.Reason)}, "reason"}},
			})
		}
	}
	r.remarks(s.Notes, s)
	for _, sub := range s.Steps {
		r.read(sub)
	}
}

// settle puts the deeds whose place in the step says nothing behind the others, in an order of their own.
func settle(deeds []deed) {
	slices.SortStableFunc(deeds, func(a, b deed) int {
		switch {
		case a.loose != b.loose && a.loose:
			return 1
		case a.loose != b.loose:
			return -1
		case a.loose:
			return strings.Compare(a.key(), b.key())
		}
		return 0
	})
}

// prose is what a step says outside its acts.
func (r *reader) prose(s *procedure.Step) string {
	var b strings.Builder
	for _, run := range s.Runs {
		switch {
		case run.Act != nil:
			b.WriteByte(' ')
		case run.Step != nil:
			b.WriteString("step")
		default:
			b.WriteString(run.Text + " ")
		}
	}
	return b.String()
}

// condition adds what governs a whole step.
func (r *reader) condition(s *procedure.Step) {
	add := func(verb, what, text string, at source.Span) {
		r.deeds = append(r.deeds, worded(Act, verb, what, text, gist, s, at))
	}
	if s.If.Set() {
		add("if", "done only if", s.If.Value, s.If.At)
	}
	if s.Otherwise.Known() {
		add("otherwise", "condition", "otherwise", s.Otherwise)
	}
	if len(s.For) > 0 {
		add("for", "done only for", texts(s.For), s.For[0].At)
	}
	switch {
	case s.Repeat.Until != "":
		add("repeat", "repeated", "until "+s.Repeat.Until, s.Repeat.At)
	case s.Repeat.Times > 0:
		add("repeat", "repeated", fmt.Sprintf("%d times", s.Repeat.Times), s.Repeat.At)
	}
}

// act adds the deeds of one act, one for each of its objects.
func (r *reader) act(a *procedure.Act, s *procedure.Step) {
	if a.Broken || a.Verb == nil {
		r.deeds = append(r.deeds, worded(Act, "broken", "a tag that can't be read", a.Words, gist, s, a.At))
		return
	}
	base := deed{kind: Act, verb: a.Verb.Name, step: s, at: a.At}
	switch a.Verb.Effect {
	case verb.Message, verb.If, verb.Otherwise, verb.For, verb.Times, verb.HandsOn, verb.Label, verb.Number, verb.Waived,
		verb.Include, verb.Speak:
		return // told elsewhere, or no part of the job
	case verb.UseTool:
		if a.Tool == nil {
			return
		}
		base.what, base.loose, base.paired = "tool", true, true
		base.about = r.tool(a.Tool)
		base.traits = []trait{{field{base.about, plain(a.Tool.Whole)}, "tool"}}
		r.deeds = append(r.deeds, base)
		return
	case verb.Wear, verb.Spend:
		base.loose = true
	}
	base.traits = r.traits(a)
	_, base.refs = unnumbered(a.Detail + " " + a.Else)
	if len(a.Objects) == 0 {
		r.wordedAct(base, a)
		return
	}
	for i := range a.Objects {
		o := &a.Objects[i]
		d := base
		d.about = r.name(o)
		d.what = a.Verb.Name + " " + shownObject(o)
		d.traits = append(objectTraits(o), base.traits...)
		if a.Verb.Effect == verb.DoTorque {
			d.traits = append(d.traits, torqueTraits(a, o)...)
		}
		d.gist = d.meaning()
		r.deeds = append(r.deeds, d)
	}
}

// tool names a tool as the new version does.
func (r *reader) tool(t *procedure.Tool) string {
	if name, ok := r.tools[t]; ok {
		return name
	}
	return gist(t.Whole)
}

// wordedAct adds an act without objects: a check, a measurement, a word to somebody, a wait.
func (r *reader) wordedAct(d deed, a *procedure.Act) {
	name := a.Name
	bare, refs := unnumbered(name)
	d.refs = append(refs, d.refs...)
	d.paired = true
	d.about = gist(bare)
	d.what = plain(a.Verb.Name + " " + cut(bare))
	d.traits = append([]trait{{field{d.about, orNone(cut(name))}, "words"}}, d.traits...)
	d.gist = d.meaning()
	r.deeds = append(r.deeds, d)
}

// meaning is all traits in one.
func (d *deed) meaning() string {
	var all []string
	for _, t := range d.traits {
		all = append(all, t.label+" "+t.meaning)
	}
	return strings.Join(all, "\x00")
}

// name is the folded name of an object, as it is called in the new version.
func (r *reader) name(o *procedure.Object) string {
	name := procedure.Fold(o.Name)
	switch {
	case o.Part != nil:
		name = procedure.Fold(o.Part.Name.Value)
	case o.Supply != nil:
		name = procedure.Fold(o.Supply.Name.Value)
	}
	if to, ok := r.names[name]; ok {
		return to
	}
	return name
}

func shownObject(o *procedure.Object) string {
	switch {
	case o.Part != nil && o.Part.Qty > 1 && !(o.Count == procedure.Numbered && o.N == 1):
		return procedure.Plural(o.Part.Name.Value)
	case o.Part != nil:
		return o.Part.Name.Value
	case o.Supply != nil:
		return o.Supply.Name.Value
	}
	return o.Typed
}
