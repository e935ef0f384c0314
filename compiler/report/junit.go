package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"refitcard/compiler/diag"
)

// The elements and attributes are those that the usual readers of test reports share (junit-4.xsd of Jenkins' xUnit plugin).
type (
	junitAll struct {
		XMLName xml.Name `xml:"testsuites"`
		Name    string   `xml:"name,attr"`
		junitCounts
		Suites []junitSuite `xml:"testsuite"`
	}
	junitCounts struct {
		Tests    int `xml:"tests,attr"`
		Failures int `xml:"failures,attr"`
		Errors   int `xml:"errors,attr"`
		Skipped  int `xml:"skipped,attr"`
	}
	junitSuite struct {
		Name string `xml:"name,attr"`
		junitCounts
		Cases []junitCase `xml:"testcase"`
	}
	junitCase struct {
		Name    string     `xml:"name,attr"`
		Class   string     `xml:"classname,attr"`
		Failure *junitWhat `xml:"failure"`
		Error   *junitWhat `xml:"error"`
		Skipped *junitWhat `xml:"skipped"`
	}
	junitWhat struct {
		Type    string `xml:"type,attr,omitempty"`
		Message string `xml:"message,attr"`
		Text    string `xml:",chardata"`
	}
)

// JUnit writes results as a test report: one suite a file, one case a finding, or one case that passed for a clean file.
// A finding below the threshold of the run, or one that was waived, is a case that was skipped, so that the report fails
// where check does; a file that can't be read is an error. There are no times in it: equal runs give equal bytes.
func JUnit(w io.Writer, r Results) error {
	all := junitAll{Name: "refitcard check", Suites: []junitSuite{}}
	place, named := map[string]int{}, map[string]int{}
	suite := func(name string) *junitSuite {
		i, ok := place[name]
		if !ok {
			i = len(all.Suites)
			place[name] = i
			all.Suites = append(all.Suites, junitSuite{Name: clean(name)})
		}
		return &all.Suites[i]
	}
	for _, name := range r.Looked {
		suite(name)
	}
	for _, f := range r.Findings {
		name := "-"
		if f.At.Known() {
			name = f.At.File.Name
		}
		s := suite(name)
		c := junitFinding(f, r)
		// Readers know cases by their names: a second one at the same place gets a number.
		if key := name + "\x00" + c.Name; named[key] > 0 {
			named[key]++
			c.Name += fmt.Sprintf(" (%d)", named[key])
		} else {
			named[key] = 1
		}
		s.add(c)
	}
	for i := range all.Suites {
		s := &all.Suites[i]
		if len(s.Cases) == 0 {
			s.add(junitCase{Name: "nothing to report", Class: s.Name})
		}
		all.Tests += s.Tests
		all.Failures += s.Failures
		all.Errors += s.Errors
		all.Skipped += s.Skipped
	}
	return writeXML(w, all)
}

func writeXML(w io.Writer, v any) error {
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	enc := xml.NewEncoder(w)
	enc.Indent("", "  ")
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func (s *junitSuite) add(c junitCase) {
	s.Cases = append(s.Cases, c)
	s.Tests++
	switch {
	case c.Failure != nil:
		s.Failures++
	case c.Error != nil:
		s.Errors++
	case c.Skipped != nil:
		s.Skipped++
	}
}

// junitFinding makes the case of a finding.
func junitFinding(f diag.Finding, r Results) junitCase {
	name, class := f.Rule, "-"
	if f.At.Known() {
		p := f.At.File.Position(f.At.Start)
		name, class = fmt.Sprintf("line %d, column %d: %s", p.Line, p.Column, f.Rule), clean(f.At.File.Name)
	}
	c := junitCase{Name: name, Class: class}
	what := &junitWhat{Type: f.Severity.String(), Message: clean(sentence(f.Message)), Text: junitText(f, r)}
	switch {
	case f.Waived != "":
		c.Skipped = &junitWhat{Message: clean("waived: " + f.Waived)}
	case f.Severity < r.Threshold:
		c.Skipped = what
	case couldNotRead(f):
		c.Error = what
	default:
		c.Failure = what
	}
	return c
}

// junitText is the finding as the text report shows it, without colour and folding.
func junitText(f diag.Finding, r Results) string {
	var b strings.Builder
	r.Findings, r.Quiet, r.Colour, r.Width = []diag.Finding{f}, true, false, 0
	if Text(&b, r) != nil { // a strings.Builder takes everything
		return ""
	}
	return "\n" + b.String()
}
