// Package diag says what a finding is: name, severity, place, message, why, what to do, related places, fixes.
// A finding is data; text, JSON and editors are views of it.
package diag

import "refitcard/compiler/source"

// Severity is how much a finding weighs.
type Severity int

// The severities, mildest first.
const (
	Advice  Severity = iota + 1 // better practice
	Warning                     // a technician could be misled
	Error                       // a wrong or unsafe card would reach the bench
)

// String gives error, warning or advice.
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	case Advice:
		return "advice"
	}
	return ""
}

// Named finds a severity by its word; ok is false for any other word.
func Named(word string) (s Severity, ok bool) {
	for s := Advice; s <= Error; s++ {
		if s.String() == word {
			return s, true
		}
	}
	return 0, false
}

// Finding is one mistake, at the few characters that tell.
type Finding struct {
	Rule     string
	Severity Severity // 0: that of its rule; the driver fills it in
	At       source.Span
	Step     int    // number of the step as it prints, 0 when there is none
	Message  string // what is wrong: lower-case start, no full stop
	Why      string // why it matters; empty: the rule's own text
	Do       string // the next thing to do
	Related  []source.Related
	Fixes    []Fix
	Variants []string // the variants it holds for; empty: all
	Thing    string   // the declared name it is about, for waivers that name one
	Waived   string   // the reason it was let pass, empty when it was not
}

// Fix is a change that would mend a finding.
type Fix struct {
	Safe  bool // may be applied without a person looking
	Title string
	Edits []Edit
}

// Edit puts Text in place of what stands at At.
type Edit struct {
	At   source.Span
	Text string
}
