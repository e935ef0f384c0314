package procedure

import (
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Act is one tag that was understood.
type Act struct {
	Verb     *verb.Verb
	At       source.Span // with its braces
	Words    string      // all between the braces as it prints, verb included
	Step     *Step       // nil in starts and leaves
	Objects  []Object
	Detail   string // words after the last object
	Tool     *Tool
	Choice   int  // which side of the tool's "or"
	Sentence int  // which sentence of the step it stands in, from 0: tools bind to the acts of their sentence
	Broken   bool // something in it was not understood (a fault was recorded): it prints, and mutes its names in the play

	*Values // never nil, as the acts that have none share NoValues
}

// Values are what an act says in figures, and what else few acts say. Most acts have none of it, and a job has hundreds: they
// share one value.
type Values struct {
	Amount   *quantity.Value // of fill, drain, top up, supply, wait, start, await (within), takes
	AmountAt source.Span
	Pieces   int    // of supply: a count without a unit
	Name     string // of measure: what is measured; of check, tell, record, wear, hold, messages: the words

	Mentions []Object // declared things among its words that are not its objects: used, and nothing done to them

	Torque  Torque // of torque: as written in the tag
	Order   string // crosswise, from the centre, in order; empty when none
	OrderAt source.Span
	Passes  Passes
	Limit   *quantity.Value // of measure and check
	LimitAt source.Span
	Places  int // "at 4 places"
	Else    string
	ElseAt  source.Span
}

// NoValues are those of an act that has none. Nobody may change them.
var NoValues = &Values{}

// Passes is "in 3 passes" or "in passes of 8, 15, 22 N·m". The zero Passes is one.
type Passes struct {
	At     source.Span
	Count  int
	Values []quantity.Value // when they are written
}

// CountKind says how an object is counted.
type CountKind uint8

// The ways to count.
const (
	Bare      CountKind = iota // no count: all that are declared
	Numbered                   // 12, "both", "one" … "twelve", "a"
	All                        // "all", "each", "every"
	Remaining                  // "remaining", "other"
)

// Object is one thing that an act acts on. Exactly one of Part, Supply, Tool is set for a declared one, none for a free one.
type Object struct {
	At     source.Span // marks, count and name
	NameAt source.Span
	Name   string // folded: lower case, singular, no article: the key of pairs by name
	Typed  string // as typed
	Part   *Part
	Supply *Supply
	Tool   *Tool

	N       int         // of Figure: how many
	Of      int         // "3 of 4": 4; 0 when not written
	CountAt source.Span // unknown when there is no count
	Count   CountKind
	New     bool
	Old     bool
	Article bool // "a" or "an"
	Plural  bool // the name was typed in the plural, and its plural differs
}
