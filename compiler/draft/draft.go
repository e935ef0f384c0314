// Package draft makes a tagged procedure out of plain notes: sentences become steps, orders become acts, and what the notes
// say of counts, tools and torques is put where it belongs. What they leave open stands in the procedure as a question. No
// value is ever made up: every figure of the procedure stands in the notes.
package draft

import (
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
	d := &drafter{verbs: verb.Standard(), opt: opt, items: map[int]bool{}}
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
	headings  []said
	lastCheck *act
	warned    *step        // the last message
	items     map[int]bool // paragraphs that are an item of a list
	begun     bool         // a step was ordered
	recent    []object     // the things of the last act
	free      []string     // names of things that nobody declares
	isolated  *object
	supported *object
	marked    *object
	fact      *tok // a value that was stated and is not yet measured
	past      bool // the notes tell what was done
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
	angle       string // "90°", turned after the torque
	order       string
	passes      string
	amount      string
	limit       string
}

func (d *drafter) take(all []said) {
	d.past = narrated(all)
	for i, s := range all {
		if s.head && d.header(s, i == 0 || d.title == "" && len(d.steps) == 0 && s.level <= 1) {
			continue
		}
		if s.item {
			d.items[s.para] = true
		}
		d.sentence(s)
	}
	for _, x := range d.steps {
		if x.signal != "" && x.message == "" {
			x.signal, x.lost = "", true
		}
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
		d.headings = append(d.headings, s)
	default:
		return false
	}
	return true
}

// greeting opens or closes a letter.
var greeting = pattern(`(?i)^(?:hi|hello|dear|hey|good morning|cheers|thanks|thank you|regards|best wishes|best)(?: [\p{L} ]{1,20})?[,.!]?$`)

// longest is how many words a sentence may have to be read at all; a longer one is no order of anybody's.
const longest = 150

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
	w := tokens(quiet(s.text))
	if len(w) == 0 || greeting().MatchString(s.text) {
		d.remark(s)
		return
	}
	if d.past && !elsewhen().MatchString(s.text) {
		w = ordered(w)
	}
	if len(w) > longest {
		d.steps = append(d.steps, &step{said: s, stage: d.heading, lost: true})
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
