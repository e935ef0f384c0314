// Package library knows what belongs to a file: the settings, the register of procedures, the tool crib, the stock list.
package library

import (
	"refitcard/compiler/quantity"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Settings are what refitcard.yaml of a library says. The zero value, with Verbs set, is a library without one.
type Settings struct {
	File       *source.File // nil without one
	Shop       string
	Units      string          // metric or us
	Paper      string          // a4, a5, …
	Distance   float64         // mm, 600 when not set
	Statement  string          // at the card's foot
	Wrong      string          // what to do when the card looks wrong
	Lift       *quantity.Value // the most that one person lifts
	Verbs      *verb.Table
	Severities map[string]string // rule → error, warning or advice
	Crib       []CribLine
	Stock      []StockLine
	SevereAt   map[string]source.Span // where each of the severities is set
	Faults     []source.Fault

	lists   []string       // files of the crib and the stock
	sources []*source.File // the settings file, and those of its lists that could be read
}

// CribLine is one tool of the tool crib. CalibratedTo is a day such as 2027-03-31, or empty.
type CribLine struct {
	Tool, Crib, Serial, CalibratedTo string
	At                               source.Span // of the line
}

// StockLine is one part or supply of the stock list. Held is how many pieces of a part, or packs of a supply, lie there; -1 where
// the list does not say.
type StockLine struct {
	Item, Number, Bin, Pack string
	Held                    int
	At                      source.Span // of the line
}

// Register is what each procedure of a library says of itself to the others.
type Register struct {
	Entries []Entry

	numbered map[string][]Entry // by the number as sameCase writes it
}

// Entry is one procedure of the register.
type Entry struct {
	Path        string // from the library's root
	File        *source.File
	Number      string
	NumberAt    source.Span
	After, Then []string
	Starts      []string // tags without braces, as typed and folded
	Leaves      []string
}
