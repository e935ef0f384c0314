package rules

import (
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
)

// PassageKind tells what a passage is for.
type PassageKind uint8

// The kinds of passages.
const (
	Introducing PassageKind = iota // a note of the introduction
	Cautioning                     // a safety message
	Instructing                    // what a step says
	Noting                         // a note at a step, or behind the last one of a stage
)

// Passage is a piece of running text.
type Passage struct {
	Kind   PassageKind
	Head   bool            // of a note: it prints as a heading
	Lines  bool            // a line ends hard between two runs
	looked uint16          // the marks that were looked for: see Mark
	marked uint16          // and those that it has
	Within int             // the number of its step, 0 for none
	Of     *procedure.Step // that says it itself, nil for notes and messages
	Spoken []procedure.Run
	Text   string // the runs as they are read
	may    uint64 // see Phrases
}

// Joined puts the runs together, so that the place of a byte of the text can be told.
func (p *Passage) Joined() procedure.Joined {
	var all procedure.Joined
	at := 0
	for _, r := range p.Spoken {
		all.Join(r, at)
		at += len(r.Read())
	}
	return all
}

// Place is the place of the bytes from up to to of the text.
func (p *Passage) Place(from, to int) source.Span { return p.Joined().Span(from, to) }
