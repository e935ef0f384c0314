// Package rules says what a rule is and what it gets to see. The rules themselves stand in the families below it.
package rules

import (
	"embed"
	"strings"

	"refitcard/compiler/assembly"
	"refitcard/compiler/diag"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// Rule is one check: a pure function from a job to findings, named by the mistake.
type Rule struct {
	Name     string // "part/single-use-kept": folder, then file
	Severity diag.Severity
	Waivable bool
	Pinned   bool // settings can't lower it
	Check    func(*Job) []diag.Finding
}

// Letters gives how strict a rule is: E, W or A, then ! where settings can't lower it, or w for an error that can be waived.
func (r Rule) Letters() string {
	letters := strings.ToUpper(r.Severity.String()[:1])
	if r.Pinned {
		letters += "!"
	}
	if r.Waivable && r.Severity == diag.Error {
		letters += "w"
	}
	return letters
}

// Family is the rules of one folder with their texts.
type Family struct {
	Name  string
	About string // what its rules look at, in a few words
	Rules []Rule
	Texts embed.FS // the .md files beside the rules
}

// Job is what a rule gets to see: one procedure, understood and played.
type Job struct {
	Proc     *procedure.Procedure
	Trees    []*syntax.Tree  // its own, then its includes in order
	Faults   []source.Fault  // of all stages before the rules, in order
	Plays    []assembly.Play // one a variant, at least one
	Verbs    *verb.Table
	Settings *library.Settings
	Register *library.Register    // nil without a library
	Against  *procedure.Procedure // the earlier version that this one is held against; nil for none

	flat  *lists      // see Steps
	words *vocabulary // see SpellName
	facts []any       // by the number of a Fact
	lost  *lost       // see Muted
	bound []BoundTool // what ToolKind.Bound gave out: it is cut from here
}

// Named gives the faults of that name: what a rule words that puts an earlier stage's finding into a sentence.
func (j *Job) Named(name string) []source.Fault {
	var found []source.Fault
	for _, f := range j.Faults {
		if f.Name == name {
			found = append(found, f)
		}
	}
	return found
}
