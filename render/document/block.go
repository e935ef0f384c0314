// Package document decides what is said on a paper: blocks in reading order, without positions. A block is plain data
// of words and figures that are ready to print; render/sheet, render/html and render/text each draw it their own way. At, where
// a block has it, is the place of the source that it says; it prints nothing.
package document

import (
	"slices"

	"refitcard/compiler/source"
)

// Block is one piece of a paper, in reading order. Blocks lists the types.
type Block interface{ block() }

// Run is a piece of running text. Keep joins its words: they are never broken over a line.
type Run struct {
	Text string
	Bold bool
	Keep bool
	Mono bool
}

// Header is what stands at the head of every page, the same on all papers of one procedure.
type Header struct {
	Number, Revision, Title, Machine string
	Kind                             string // the kind of sheet, "Record sheet"; empty on a job card
	Date, ShortDate                  string // "20 November 2026", "2026-11-20"
	Digest                           string // of the source and its includes, in two groups of four: "4F7K-29QD"
	Payload                          string // of the scan code: number, revision, digest
	Variant                          string // the one variant that the paper is for; empty for all
	Draft                            bool   // nobody has approved it
	At                               source.Span
}

// Foot is what stands at the foot of every page.
type Foot struct {
	Lead      string // "Card looks wrong?"
	Wrong     string // what to do then
	Statement string // what comes before this card
}

// Heading opens a part of the paper that is no stage: "Before you start".
type Heading struct {
	Text string
	Help string // a few words after it in regular type
}

// Facts are short answers under their labels, laid on the grid.
type Facts struct{ Facts []Fact }

// Fact is one answer: "Heaviest lift", "18 kg, hoist".
type Fact struct {
	Label, Value string
	At           source.Span
}

// Line is a lead-in in bold and the words after it: "Wear: goggles and gloves".
type Line struct {
	Lead string
	Runs []Run
	At   source.Span
}

// Glance holds the lists to look over before starting: tools, new parts, supplies.
type Glance struct{ Lists []GlanceList }

// GlanceList is one of them. Wide asks for two columns, run down one after the other; Below puts it under the list before.
type GlanceList struct {
	Head  string
	Items []GlanceItem
	Wide  bool
	Below bool
}

// GlanceItem is one entry, its count in bold before the name; Count is empty where nothing is counted.
type GlanceItem struct {
	Count, Name string
	At          source.Span
}

// Stage is the heading of a stage with the range of its steps, "steps 2 to 4".
type Stage struct {
	Title string
	Range string
	At    source.Span
}

// Panel is a safety message. Avoid is what to do against the hazard; it may be empty.
type Panel struct {
	Signal      string // DANGER, WARNING, CAUTION or NOTICE
	Hazard      []Run
	Consequence []Run
	Avoid       []Run
	At          source.Span
}

// Note is prose that prints and is not done.
type Note struct {
	Runs []Run
	Head bool // from a heading: bold
	At   source.Span
}

// Figure is a picture with its caption.
type Figure struct {
	Key     string // names it once per paper
	Type    string // png, jpeg or svg
	Data    []byte // nil when the picture is missing: the caption prints alone
	Caption string
	At      source.Span
}

// Step is one numbered step or sub-step. Panels print right before it, and again where it goes on over the page.
type Step struct {
	Name      string // "7", "7a"
	Number    int
	Panels    []Panel
	Condition Condition
	Before    []Block // notes and drawings that print before the acts: Note, Figure, Layout, Pile
	Acts      []Act
	At        source.Span
}

// Condition is what governs a whole step. The zero Condition: done once, always.
type Condition struct {
	If        string   // words: done only if they hold; a box "not needed" prints
	Otherwise bool     // the other way of the step before
	For       []string // only for these variants
	Repeat    string   // "3 times", "until no air comes"
	Times     int      // how many boxes to tick for the repeats; 0: none
	Takes     string   // hands-on time, "4 min"
}

// Set tells whether anything of it prints above the acts; the time prints below the step's number.
func (c Condition) Set() bool {
	return c.If != "" || c.Otherwise || len(c.For) > 0 || c.Repeat != ""
}

// Act is one paragraph of a step with one box to tick, or a hold, or a handover: exactly one of Runs, Hold and
// Handover is set.
type Act struct {
	Runs     []Run
	Tick     bool // false where the passes have the ticks, and for words that nobody does
	Check    int  // line of the record sheet on which it is ticked as well; 0 for none
	Torque   *TorqueBox
	Passes   *Passes
	Boxes    []MeasureBox
	Lines    []string // under it: "Else top up.", the way round
	Figures  []Figure
	Hold     *Hold
	Handover *Handover
	At       source.Span
}

// TorqueBox is the value to set, at the right edge.
type TorqueBox struct {
	Figure, Unit string // in the unit of the wrench: "22", "N·m"; "20–24" for a range
	Second       string // figure in the other unit, may be empty
	SecondUnit   string
	Angle        string // "then 90°"
	Set          string // "set 22": the one value to set where a range is given for several
	Dial         string // "dial 19.1": the setting with an adapter that lengthens the wrench
}

// Passes is the table of the passes of one tightening, with the drawing of the order.
type Passes struct {
	Unit, SecondUnit string
	Rows             []Pass
	Layout           *Layout // nil when the places are not drawn
	Below            string  // "Same order in each pass; start at 1."
}

// Pass is one row, with its own box to tick. Figures are empty where the pass has no torque of its own.
type Pass struct{ Name, Figure, Second string }

// Layout is the drawing of where the fasteners sit, numbered in the order of tightening.
type Layout struct {
	Part   string // what they hold: "end cover"
	Places []Place
	At     source.Span
}

// Place is one fastener: X in characters and Y in lines of the source's drawing, from 0. Order counts from 1; 0 is not
// numbered. Letter tells two sizes apart.
type Place struct {
	X, Y, Order int
	Letter      string
}

// Pile is a stack of parts drawn in order with its sum.
type Pile struct {
	Name   string
	Layers []string // from the bottom up, as they are put on
	Target string   // "38.6–39.4 mm"
	At     source.Span
}

// MeasureBox is a box to write a reading in.
type MeasureBox struct {
	Place  string // "1" to "4" where there are several; else empty
	Limits string // "12–18", "at least 3", empty for none
	Unit   string
	Lines  []int // of the record sheet: one for each time that the step is done; empty when unknown
}

// Hold stops the job for another person.
type Hold struct {
	For  string // "the supervisor"
	Why  string // "to see both pins."; may be empty
	Line int    // of the record sheet, 0 when unknown
	Next string // name of the step after it; empty when it is the last
}

// Handover is a place where the job may be left: what stands other than in a whole machine, a line each.
type Handover struct{ Lines []HandoverLine }

// HandoverLine is one kind of open state: "Off", "12 cover bolts, 1 end cover"; "none" is printed.
type HandoverLine struct{ Label, Words string }

// TorqueTable lists the torques at the end of the card, from four up.
type TorqueTable struct {
	Unit, SecondUnit string
	Rows             []TorqueRow
}

// TorqueRow is one torque with the step it is used in. Unit and SecondUnit stand only where they differ from the head's.
type TorqueRow struct {
	Step, What       string
	Figure, Unit     string
	Second           string
	SecondUnit, Then string
	At               source.Span
}

// After is what remains when the last step is done: follow-up, and state left open on purpose.
type After struct{ Lines []Line }

// End is the mark below the last block: a technician can count.
type End struct {
	Steps, Boxes int
	Then         string // "Now finish the record sheet."
}

func (Heading) block()     {}
func (Facts) block()       {}
func (Line) block()        {}
func (Glance) block()      {}
func (Stage) block()       {}
func (Panel) block()       {}
func (Note) block()        {}
func (Figure) block()      {}
func (Step) block()        {}
func (Layout) block()      {}
func (Pile) block()        {}
func (TorqueTable) block() {}
func (After) block()       {}

// Blocks gives one empty value of each type of block, for tests that demand a case of every drawer.
func Blocks() []Block {
	return []Block{
		Heading{},
		Facts{},
		Line{},
		Glance{},
		Stage{},
		Panel{},
		Note{},
		Figure{},
		Step{},
		Layout{},
		Pile{},
		TorqueTable{},
		After{},
	}
}

// JobCard is the card that hangs at the machine.
type JobCard struct {
	Header   Header
	Foot     Foot
	Language string
	Blocks   []Block
	End      End
	Record   *Record       // the record sheet that belongs to it; nil when unknown
	Changed  []source.Span // what says another thing than in the version that it is held against; nil for none
}

// IsChanged tells whether what a piece of the source says has changed.
func (c *JobCard) IsChanged(at source.Span) bool {
	return at.Known() && slices.ContainsFunc(c.Changed, func(x source.Span) bool {
		return x.File == at.File && x.Start < at.End && at.Start < x.End
	})
}
