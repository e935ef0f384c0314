// Package draft makes a tagged procedure out of plain notes: sentences become steps, orders become acts, and what the notes
// say of counts, tools and torques is put where it belongs. What they leave open stands in the procedure as a question. No
// value is ever made up: every figure of the procedure stands in the notes.
package draft

import (
	"regexp"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/verb"
)

// Options are what a draft needs to know beside the notes.
type Options struct {
	Title  string // when the notes have none: "Rake chain"
	Number string // stands in until the register gives one: "RAKE-CHAIN"
	// Check compiles a procedure and gives its findings. What it finds is asked in place. With nil nothing is asked that
	// only a compile shows.
	Check func(text []byte) []diag.Finding
}

// Question is a doubt that stands in the procedure. Rule and Thing tell which findings it explains: those of this rule about
// this thing. Rule is empty for a doubt that no check knows of.
type Question struct {
	Text, Rule, Thing string
}

// Draft is a procedure as Markdown, with the questions that stand in it.
type Draft struct {
	Text      []byte
	Questions []Question
}

// Make turns notes into a procedure. It never fails: what it does not understand stands in a question.
func Make(notes []byte, opt Options) Draft {
	d := &drafter{verbs: verb.Standard(), opt: opt}
	d.take(read(notes))
	d.settle()
	return d.finish()
}

// drafter is one draft in the making.
type drafter struct {
	verbs  *verb.Table
	opt    Options
	title  string
	things []*thing
	tools  []*tool
	steps  []*step
	intro  []*step // messages and remarks before the first step

	mode      string // of a list of what is needed: tools, parts, supplies
	heading   string // of the notes, for the steps that follow
	clock     int
	lastOne   *object
	lastMany  []object
	lastCheck *act
	begun     bool     // a step was ordered
	recent    []object // the things of the last act
	free      []string // names of things that nobody declares
	isolated  *object
	supported *object
	marked    *object
	fact      *tok // a value that was stated and is not yet measured
	reverse   bool // the notes leave the refitting to the reader
	ask       []Question
}

// step is a sentence of the notes with what was made of it.
type step struct {
	said    said
	pieces  []*piece
	signal  string // of a safety message
	message string
	stage   string
	asked   []Question // stand before it
	lost    bool       // nothing was made of it: it stands as a question
	note    bool       // of a remark: it prints as a note
	remark  bool       // it orders nothing: it stands as a comment
	cond    string
	line    int // in the text
}

// piece is a clause of a step: an act, or plain words.
type piece struct {
	act  *act
	tail []run
}

// run is words of a step, or a thing that has a tag of its own.
type run struct {
	text   string
	tool   *tool
	supply *thing
	amount string
	comma  bool // a comma stands before it
}

// act is a tag in the making.
type act struct {
	verb, spell string
	objs        []object
	words       string // of check, tell, record, wear, measure
	torque      string
	order       string
	passes      string
	amount      string
	limit       string
}

func (d *drafter) take(all []said) {
	for i, s := range all {
		if s.head && d.header(s, i == 0 || d.title == "" && len(d.steps) == 0 && s.level <= 1) {
			continue
		}
		d.sentence(s)
	}
	if d.title == "" {
		d.title = d.opt.Title
	}
}

// header takes in a heading: the title, the start of a list of what is needed, or the start of a stage.
func (d *drafter) header(s said, first bool) bool {
	if kind, rest := listOf(s.text); kind != "" && rest == "" {
		d.mode = kind
		d.remark(s)
		return true
	}
	switch {
	case first && d.title == "":
		d.title = s.text
	case s.level > 0 || s.text == strings.ToUpper(s.text) && len(strings.Fields(s.text)) < 6:
		d.mode, d.heading = "", strings.TrimRight(s.text, ":")
	default:
		return false
	}
	return true
}

// listOf tells what a heading, or the words before a colon, announce a list of.
func listOf(s string) (kind, rest string) {
	head, rest, colon := strings.Cut(s, ":")
	low := strings.ToLower(strings.TrimSpace(head))
	switch low {
	case "tools", "tool", "equipment", "what you need", "you need", "you will need", "you'll need", "tools needed", "gear", "kit", "tools and parts":
		kind = "tools"
	case "parts", "spares", "spare parts", "parts needed", "new parts":
		kind = "parts"
	case "supplies", "materials", "consumables":
		kind = "supplies"
	}
	if kind == "" || !colon && rest != "" {
		return "", ""
	}
	return kind, strings.TrimSpace(rest)
}

func (d *drafter) remark(s said) *step {
	x := &step{said: s, remark: true, stage: d.heading}
	d.steps = append(d.steps, x)
	return x
}

func (d *drafter) sentence(s said) {
	if kind, rest := listOf(s.text); kind != "" {
		d.remark(s)
		if rest == "" {
			d.mode = kind
			return
		}
		d.list(rest, kind)
		return
	}
	if d.mode != "" && s.item {
		d.remark(s)
		d.list(s.text, d.mode)
		return
	}
	d.mode = ""
	if signal, text := d.danger(s); signal != "" {
		d.message(s, signal, text)
		return
	}
	w := tokens(s.text)
	if len(w) == 0 {
		d.remark(s)
		return
	}
	if d.needs(w) {
		d.remark(s)
		return
	}
	if how := unwritten(s.text); how != "" {
		d.unwritten(s, how)
		return
	}
	d.clock++
	x := &step{said: s, stage: d.heading}
	r := &reader{d: d, step: x}
	for _, c := range clauses(w) {
		r.clause(c)
	}
	d.weigh(x, r)
}

// weigh decides what becomes of a sentence that was read.
func (d *drafter) weigh(x *step, r *reader) {
	d.steps = append(d.steps, x)
	d.begun = d.begun || len(x.pieces) > 0 && (r.ordered || len(r.acts()) > 0)
	switch {
	case r.lost:
		x.lost = true
		d.lastOne, d.recent = nil, nil // nobody knows what "it" is behind it
	case len(x.pieces) == 0 && x.cond != "":
		x.lost = true
	case len(r.acts()) == 0 && !r.ordered:
		d.subject(r)
		x.pieces = nil
		x.remark = true
		switch {
		case r.valued && !r.taken || demands.MatchString(x.said.text) || !states.MatchString(x.said.text):
			x.lost = true
		case d.begun && facts.MatchString(x.said.text):
			x.note = true
		}
	}
}

// states are words of a sentence that states something; facts begin one that the reader at the machine may need.
var (
	states = regexp.MustCompile(`(?i)(?:\b(?:is|are|was|were|will|can|could|may|has|have|had|does|do|did|takes|weighs|holds|comes|goes|go|sits|means|gets|got|want|wants|done|know|think|says)\b|'s\b|'re\b|’s\b|’re\b|'ve\b|'ll\b)`)
	facts  = regexp.MustCompile(`(?i)^(?:the|each|every|both|all|these|a|an|there)\b`)
)

// demands are words of a sentence that orders nothing and still asks for something.
var demands = regexp.MustCompile(`(?i)\b(?:must|should|shall|nothing|nobody|remaining|needs? to|has to|have to)\b`)

// subject keeps what a sentence states something of: "it" in the next one is that.
func (d *drafter) subject(r *reader) {
	w := tokens(r.step.said.text)
	objs, _ := objects(w, skipFillers(w, 0))
	if len(objs) != 1 || objs[0].pron != "" {
		return
	}
	d.lastOne, d.recent = nil, nil
	if (objs[0].one || objs[0].plural) && !noName(objs[0].name) && nameable.MatchString(objs[0].name) {
		d.remember(objs)
	}
}

// needs takes in "you'll need a 19 mm spanner and a straight edge".
func (d *drafter) needs(w []tok) bool {
	if len(w) < 3 || w[0].low != "you'll" && w[0].low != "you" {
		return false
	}
	i := 1
	if w[i].low == "will" {
		i++
	}
	if w[i].low != "want" && w[i].low != "need" || i+1 >= len(w) || w[i+1].low == "to" {
		return false
	}
	words := make([]string, 0, len(w))
	for _, t := range w[i+1:] {
		words = append(words, t.print+t.stop)
	}
	d.list(strings.Join(words, " "), "tools")
	return true
}

// reverses are sentences that leave the refitting to the reader.
func unwritten(s string) string {
	low := strings.ToLower(s)
	has := func(words ...string) bool {
		for _, w := range words {
			if !strings.Contains(low, w) {
				return false
			}
		}
		return true
	}
	switch {
	case has("reverse", "removal"), has("reverse", "order"), has("reverse of"), has("reverse the"), has("reassemble in reverse"), has("in reverse"):
		return "reverse"
	case has("same again"), has("same for the"), has("same on the"), has("likewise"), has("do the same"), has("repeat for"), has("repeat on"), has("other side", "same"):
		return "again"
	}
	return ""
}

func (d *drafter) unwritten(s said, how string) {
	x := &step{said: s, stage: d.heading, lost: true}
	d.steps = append(d.steps, x)
	text := quoted(s.text) + ": which steps are these? write each of them out"
	if how == "reverse" {
		d.reverse = true
		text = quoted(s.text) + ": write out each act of the refitting, with its torque. Which torque, which fill?"
	}
	x.asked = append(x.asked, Question{Text: text, Rule: "unwritten/" + how})
	d.facts(tokens(s.text))
}
