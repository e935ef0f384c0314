// Package procedure is the typed model of a procedure: what it means. It is plain data, made by resolve.
package procedure

import (
	"bytes"
	"strings"

	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
)

// Text is a piece of front matter or of a cell with its place. The zero Text was not written.
type Text struct {
	Value string
	At    source.Span
}

// Set tells whether it was written.
func (t Text) Set() bool { return t.Value != "" }

// Procedure is one job, its includes taken in.
type Procedure struct {
	File    *source.File
	Sources []*source.File // its own file, then its includes in order: what the digest is taken over

	Title, Number, Revision, Date, Machine           Text
	Author, Reviewer, Approved, Walked, Units, Paper Text
	People                                           Text // as typed: "2" or "1 fitter, 1 slinger"
	Crew                                             int  // the number of people, 0 when not written
	Time                                             *quantity.Value
	TimeAt                                           source.Span
	Conditions, References                           []Text
	Variants                                         []Text
	Each                                             Each
	After, Then                                      []Text // numbers of the procedures before and behind it
	Starts, Leaves                                   []*Act

	Intro    []Remark   // notes and figures of the introduction, in order
	Messages []*Message // safety messages for the whole job
	Parts    []*Part
	Tools    []*Tool
	Supplies []*Supply
	// Which of the three sections stand there, and which say "- none" on purpose.
	PartsSection, ToolsSection, SuppliesSection Section

	Stages  []*Stage
	Layouts []*Layout
	Stacks  []*Stack
	Waivers []*Waiver // all of them, those of steps too
	Labels  map[string]*Step
	Spoken  []*Act // tool, part and supply tags in notes: what they name is used
}

// Each is the front matter's "wheel, 2": the job is played once, the pick list multiplies. The zero Each is once.
type Each struct {
	Name  string
	Count int
	At    source.Span
}

// Section tells of a section of declarations.
type Section struct {
	At   source.Span // of its heading; unknown when it is missing
	None bool        // "- none"
}

// Remark is something that prints and is not done: a note or a figure. Exactly one of the two is set.
type Remark struct {
	Note   *Note
	Figure *Figure
}

// Note is prose.
type Note struct {
	At   source.Span
	Runs []Run
	Head bool // from a heading of level 3 or more: prints bold
}

// Figure is a picture.
type Figure struct {
	At   source.Span
	Path Text   // as typed
	File string // path from the library's root, empty when it is missing or outside
	Data []byte // the picture itself, nil when it is missing or no picture
	Type string // png, jpeg or svg
	Alt  string
}

// Message is a safety message.
type Message struct {
	At     source.Span
	Signal string // DANGER, WARNING, CAUTION or NOTICE
	Runs   []Run  // all of it
	Hazard []Run  // the first sentence
	Rest   []Run  // consequence, and what to do
	Late   bool   // stands behind acts of its step with none after it, or behind the last step of its stage
	Inline bool   // from a tag inside a step
	Step   int
}

// Stage is a level-2 heading with its steps.
type Stage struct {
	Title    Text
	At       source.Span
	Messages []*Message // before its first step
	Steps    []*Step    // top-level steps
	Tail     []Remark   // notes behind its last step
}

// Step is a numbered step or a sub-step.
type Step struct {
	At       source.Span
	Number   int    // through the whole procedure
	Sub      string // "a", "b" … for a sub-step, empty for a step; a sub-step has its parent's Number
	Stage    *Stage
	Parent   *Step
	Before   []Remark   // notes and figures that stand before it
	Messages []*Message // belong to it, print before its action
	Runs     []Run      // what it says, in order
	Acts     []*Act     // every act in it, in order, also those that do not tick (tool, part, supply)
	Notes    []Remark   // its bullets, quotes without a signal word and figures
	Steps    []*Step    // its sub-steps, played after its own acts

	*Terms // never nil, as steps that have none share NoTerms
}

// Terms are what few steps have: on which terms a step is done, how it is named and held, and the drawings in it.
type Terms struct {
	Layouts []*Layout
	Stacks  []*Stack

	If        Text // the words of {if …}
	Otherwise source.Span
	For       []Text // variants
	Repeat    Repeat
	Takes     *quantity.Value
	Label     Text
	Hold      Text // for whom; the tag's words
	HoldAt    source.Span
	Handover  source.Span
	Wear      []Text
	FollowUp  []*Act
}

// NoTerms are those of a step that has none. Nobody may change them.
var NoTerms = &Terms{}

// Own gives the terms of a step to be filled in: from then on it has its own.
func (s *Step) Own() *Terms {
	if s.Terms == NoTerms {
		s.Terms = &Terms{}
	}
	return s.Terms
}

// Name is the number as it prints: "7" or "7a".
func (s *Step) Name() string {
	if s == nil {
		return ""
	}
	return itoa(s.Number) + s.Sub
}

// Num is its number, 0 for no step.
func (s *Step) Num() int {
	if s == nil {
		return 0
	}
	return s.Number
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + string(rune('0'+n%10))
}

// Repeat tells how often a step is done. The zero Repeat is once.
type Repeat struct {
	At    source.Span
	Times int    // 0 for until
	Until string // the words of "until …"
}

// Weight tells how a run is set off in print.
type Weight uint8

// The weights.
const (
	Plain  Weight = iota
	Strong        // counts and objects, values: bold
)

// Run is a piece of running text as it prints. Act is the act whose words they are, nil for prose between tags.
type Run struct {
	Text   string
	Act    *Act
	Step   *Step // of a {number …}: the step whose Name prints here; its Label is the label as it stands in the tag
	At     source.Span
	Weight Weight
	Keep   bool // never broken over a line: number and unit, count and name
	Code   bool
	End    bool // the end of a paragraph: a line break
}

// Read is the text of the run as it is read: a break is a space, a {number …} the name of its step.
func (r Run) Read() string {
	switch {
	case r.End:
		return " "
	case r.Step != nil:
		return r.Step.Name()
	}
	return r.Text
}

// Exact tells whether the run stands in the file as it prints, but for the space of a line end: then a byte of its text is
// the same byte of the file.
func (r Run) Exact() bool {
	if r.At.File == nil {
		return strings.TrimRight(r.Text, " ") == ""
	}
	return string(bytes.TrimRight(r.At.File.Text[r.At.Start:r.At.End], " ")) == strings.TrimRight(r.Text, " ")
}

// Waiver lets one finding pass.
type Waiver struct {
	At       source.Span
	Rule     Text
	Thing    string // the declared name, empty for none
	Reason   string
	Step     *Step // nil before the first stage: it speaks of the declarations
	Included bool  // stands in an included file
}
