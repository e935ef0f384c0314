// Package report shows findings: one function a format. It never sees a terminal, a file or a clock.
package report

import (
	"io"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

// Results is what there is to show of one run.
type Results struct {
	Version  string
	Files    int            // procedures looked at
	Looked   []string       // their names, as findings name them
	Findings []diag.Finding // sorted; waived ones among them
	Texts    func(rule string) (rules.Text, bool)
	Quiet    bool // text: no last line, no "why"
	Offers   bool // text: how a line would read with a fix that somebody has to look at
	Colour   bool // text: colour on top of words
	Width    int  // text: columns to fold at, 0 for no folding

	Threshold diag.Severity // junit: what is milder does not fail; 0: everything fails
}

// Format is one way to show results.
type Format struct {
	Name  string
	Write func(io.Writer, Results) error
}

// Formats lists the formats by their names on the command line.
func Formats() []Format {
	return []Format{{"text", Text}, {"json", JSON}, {"sarif", SARIF}, {"github", GitHub}, {"junit", JUnit}}
}

// Count tells how many findings stand at each severity, waived ones not counted, and in how many files.
func (r Results) Count() (errors, warnings, advice, files int) {
	seen := map[string]bool{}
	for _, f := range r.Findings {
		if f.Waived != "" {
			continue
		}
		switch f.Severity {
		case diag.Error:
			errors++
		case diag.Warning:
			warnings++
		default:
			advice++
		}
		if f.At.Known() {
			seen[f.At.File.Name] = true
		}
	}
	return errors, warnings, advice, min(len(seen), max(r.Files, 1)) // an included file is no procedure of its own
}
