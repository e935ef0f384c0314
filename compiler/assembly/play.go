// Package assembly plays a job through step by step over counts and knows what is off, loose, drained, open and isolated
// after each step. What can't be, or does not close at the end, it records as faults; the rules word them.
package assembly

import (
	"math/big"

	"refitcard/compiler/procedure"
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
)

// Play is one procedure played through for one variant.
type Play struct {
	Variant string // empty when the procedure has no variants
	Faults  []source.Fault
	After   []State // after each step in the order played, sub-steps among them
	Start   State
	End     State
	Moves   []Move                             // every change of place or grip of a part, in order: for bags, labels, the ledger table
	Spent   []Spent                            // what each supply came to
	Last    map[*procedure.Part]*procedure.Act // the last act that tightened it to its end
	Due     []Due                              // what is missing after the last step to make the machine whole
}

// State is what stands other than in a whole machine. It is plain data that prints.
type State struct {
	Step     *procedure.Step // nil for the start
	Off      []Counted       // parts off, or not yet on
	Loose    []Counted       // fasteners on and not tight
	Scrap    []Counted
	Drained  []string
	Open     []Counted // opened, disconnected, raised, capped, inserted, supported: with the verb that did it in Why
	Isolated []string
	Running  []string // waits started and not awaited
	Marked   []string
}

// Counted is a thing with a count, N of Of.
type Counted struct {
	Name  string
	N, Of int
	Why   string          // the word of its state: "off", "slack", "hand-tight", or the verb that opened it
	Part  *procedure.Part // nil for things by name
	At    source.Span     // the act that brought it there
	Step  *procedure.Step
}

// Move is one change that an act made to N units of a part.
type Move struct {
	Act  *procedure.Act
	Step *procedure.Step
	Part *procedure.Part
	N    int
	To   string // off, on, slack, hand, stage, tight, final, scrap
	New  bool   // a new one went on
}

// Spent is what the steps of a play take of a supply.
type Spent struct {
	Supply *procedure.Supply
	Amount *big.Rat // in SI units, only to be read: it may be that of a value; nil when counted or not said
	Pieces int
	First  *procedure.Step // the first step that uses it
	Acts   []*procedure.Act
	Unit   *quantity.Unit // of the first amount
}
