package rules

import (
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Step is a step of a job with what several rules ask of it.
type Step struct {
	*procedure.Step
	*Passage
	Misread  bool // a tag in it could not be read
	Tooled   bool // a tag in it names a listed tool
	toolLost bool // a tag of a tool could not be read
	said     int  // where its passage stands among all
}

// Message is a safety message with what it says.
type Message struct {
	*procedure.Message
	*Passage
}

// lists are the steps, acts and texts of a job one behind the other. They are gathered once, when a rule first asks, so that
// each rule goes over what it looks at and over nothing else.
type lists struct {
	steps    []Step
	first    []int                     // where the step of a number stands in steps
	subs     map[*procedure.Step]int   // where a sub-step does
	acts     []*procedure.Act          // of the steps; then of starts and leaves, then the tags of notes
	inSteps  int                       // so many of acts stand in steps
	by       [effects][]*procedure.Act // those by their effect
	passages []Passage                 // in the order in which they stand in the job
	messages []Message                 // of the job, of the stages, of the steps
	late     []Message                 // those of the steps
	tools    map[*procedure.Tool]int   // how many tags name it
	supplies map[*procedure.Supply]int
}

// effects is how many effects verbs have.
const effects = verb.Include + 1

// sizes are the lengths of the lists.
type sizes struct {
	steps, passages, messages int
	bytes                     int // of the texts, nearly
}

func (j *Job) lists() *lists {
	if j.flat == nil {
		j.flat = gather(j.Proc)
	}
	return j.flat
}

// gather fills the lists. A first walk measures, so that nothing grows in the second one.
func gather(p *procedure.Procedure) *lists {
	var n sizes
	walk(p, n.step, n.message, n.note)
	l := &lists{
		steps: make([]Step, 0, n.steps), first: make([]int, n.steps+1),
		passages: make([]Passage, 0, n.passages), messages: make([]Message, 0, n.messages),
	}
	walk(p, l.step, l.message, l.note)
	l.read(n.bytes)
	l.deal(p)
	l.messages = append(l.messages, l.late...)
	return l
}

// walk visits what is said in a job, in order. within is the number of the step, 0 for none.
func walk(p *procedure.Procedure, step func(*procedure.Step), message func(m *procedure.Message, within int), note func(n *procedure.Note, kind PassageKind, within int)) {
	notes := func(list []procedure.Remark, kind PassageKind, within int) {
		for _, r := range list {
			if r.Note != nil {
				note(r.Note, kind, within)
			}
		}
	}
	messages := func(list []*procedure.Message, within int) {
		for _, m := range list {
			message(m, within)
		}
	}
	notes(p.Intro, Introducing, 0)
	messages(p.Messages, 0)
	for _, stage := range p.Stages {
		messages(stage.Messages, 0)
		stage.EachStep(func(s *procedure.Step) {
			notes(s.Before, Noting, s.Number)
			messages(s.Messages, s.Number)
			step(s)
			notes(s.Notes, Noting, s.Number)
		})
		notes(stage.Tail, Noting, 0)
	}
}

func (n *sizes) step(s *procedure.Step) {
	n.steps++
	n.passage(s.At, s.Runs)
}

func (n *sizes) message(m *procedure.Message, _ int) {
	n.messages++
	n.passage(m.At, m.Runs)
}

func (n *sizes) note(m *procedure.Note, _ PassageKind, _ int) { n.passage(m.At, m.Runs) }

func (n *sizes) passage(at source.Span, said []procedure.Run) {
	n.passages++
	if len(said) > 1 { // see single
		n.bytes += at.End - at.Start
	}
}

// put adds a passage, which stays where it is.
func (l *lists) put(p Passage) *Passage {
	l.passages = append(l.passages, p)
	return &l.passages[len(l.passages)-1]
}

func (l *lists) note(n *procedure.Note, kind PassageKind, within int) {
	l.put(Passage{Kind: kind, Head: n.Head, Within: within, Spoken: n.Runs})
}

func (l *lists) message(m *procedure.Message, within int) {
	heard := Message{m, l.put(Passage{Kind: Cautioning, Within: within, Spoken: m.Runs})}
	if within == 0 {
		l.messages = append(l.messages, heard)
		return
	}
	l.late = append(l.late, heard)
}

func (l *lists) step(s *procedure.Step) {
	at := len(l.steps)
	switch {
	case s.Sub == "" && s.Number < len(l.first):
		l.first[s.Number] = at
	default:
		if l.subs == nil {
			l.subs = map[*procedure.Step]int{}
		}
		l.subs[s] = at
	}
	seen := Step{Step: s, said: len(l.passages), Passage: l.put(Passage{Kind: Instructing, Within: s.Number, Of: s, Spoken: s.Runs})}
	seen.look()
	l.steps = append(l.steps, seen)
}

// look notes what the acts of a step tell.
func (seen *Step) look() {
	for _, a := range seen.Acts {
		seen.Misread = seen.Misread || a.Broken
		seen.Tooled = seen.Tooled || a.Tool != nil
		seen.toolLost = seen.toolLost || a.Broken && a.Verb.Effect == verb.UseTool
	}
}

// place is where a step stands in the list of steps.
func (l *lists) place(s *procedure.Step) int {
	if at, sub := l.subs[s]; sub {
		return at
	}
	return l.first[s.Number]
}

// read puts the runs of each passage together. The texts share one string; that of a passage of one run is the run's.
func (l *lists) read(size int) {
	var b strings.Builder
	b.Grow(size)
	ends := make([]int, len(l.passages))
	for i := range l.passages {
		if p := &l.passages[i]; !p.single() {
			p.read(&b)
		}
		ends[i] = b.Len()
	}
	from, find := 0, phraseFinder()
	for i := range l.passages {
		p := &l.passages[i]
		if p.Text == "" {
			p.Text = b.String()[from:ends[i]]
		}
		p.seek(find)
		from = ends[i]
	}
}

// single takes the text of a passage that is one run, as that of most notes and messages.
func (p *Passage) single() bool {
	if len(p.Spoken) != 1 || p.Spoken[0].End || p.Spoken[0].Step != nil {
		return false
	}
	p.Text = p.Spoken[0].Text
	return true
}

// read puts the runs of a passage together.
func (p *Passage) read(b *strings.Builder) {
	for k := range p.Spoken {
		switch r := &p.Spoken[k]; {
		case r.End:
			p.may, p.Lines = anyPhrase, true
			b.WriteByte(' ')
		case r.Step != nil:
			p.may = anyPhrase
			b.WriteString(r.Step.Name())
		default:
			b.WriteString(r.Text)
		}
	}
}

// seek notes which groups of phrases the text of a passage may hold.
func (p *Passage) seek(find *Finder) {
	if p.may != anyPhrase {
		p.may = find.InText(p.Text)
	}
}

// deal lists the acts, those of the steps by their effects too, and counts what they use.
func (l *lists) deal(p *procedure.Procedure) {
	var by [effects]int
	l.inSteps = 0
	for i := range l.steps {
		l.inSteps += len(l.steps[i].Acts)
		for _, a := range l.steps[i].Acts {
			by[a.Verb.Effect]++
		}
	}
	l.acts = make([]*procedure.Act, 0, l.inSteps+len(p.Starts)+len(p.Leaves)+len(p.Spoken))
	all := make([]*procedure.Act, l.inSteps)
	for e, count := range by {
		l.by[e], all = all[:0:count], all[count:]
	}
	for i := range l.steps {
		l.acts = append(l.acts, l.steps[i].Acts...)
	}
	for _, a := range l.acts {
		l.by[a.Verb.Effect] = append(l.by[a.Verb.Effect], a)
	}
	for _, list := range [][]*procedure.Act{p.Starts, p.Leaves, p.Spoken} {
		l.acts = append(l.acts, list...)
	}
	l.tools, l.supplies = map[*procedure.Tool]int{}, map[*procedure.Supply]int{}
	for _, a := range l.acts {
		l.use(a, 1)
	}
}

// use counts the tools and supplies that an act names, more of them or fewer.
func (l *lists) use(a *procedure.Act, by int) {
	if a.Tool != nil {
		l.tools[a.Tool] += by
	}
	for _, list := range [2][]procedure.Object{a.Objects, a.Mentions} {
		for i := range list {
			if t := list[i].Tool; t != nil {
				l.tools[t] += by
			}
			if s := list[i].Supply; s != nil {
				l.supplies[s] += by
			}
		}
	}
}
