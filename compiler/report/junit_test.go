package report_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/source"
)

func inJUnit(b *bytes.Buffer, r report.Results) error { return report.JUnit(b, r) }

// node is XML read with no idea of what is to be in it.
type node struct {
	XMLName xml.Name
	Attrs   []xml.Attr `xml:",any,attr"`
	Text    string     `xml:",chardata"`
	Nodes   []node     `xml:",any"`
}

func (n node) get(name string) string {
	for _, a := range n.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (n node) all(name string) []node {
	var found []node
	for _, c := range n.Nodes {
		if c.XMLName.Local == name {
			found = append(found, c)
		}
	}
	return found
}

// mayHold lists the attributes and the children of each element in the JUnit schema that the usual readers share
// (junit-4.xsd of Jenkins' xUnit plugin, MIT licence), as far as they are used here.
var mayHold = map[string]struct{ attributes, children string }{
	"testsuites": {"name tests failures errors skipped", "testsuite"},
	"testsuite":  {"name tests failures errors skipped", "testcase"},
	"testcase":   {"name classname", "failure error skipped"},
	"failure":    {"type message", ""},
	"error":      {"type message", ""},
	"skipped":    {"type message", ""},
}

func (n node) check(t *testing.T) {
	t.Helper()
	may, known := mayHold[n.XMLName.Local]
	if !known {
		t.Errorf("the element %q is not of a test report", n.XMLName.Local)
	}
	for _, a := range n.Attrs {
		if !strings.Contains(" "+may.attributes+" ", " "+a.Name.Local+" ") {
			t.Errorf("%s has an attribute %q", n.XMLName.Local, a.Name.Local)
		}
	}
	for _, c := range n.Nodes {
		if !strings.Contains(" "+may.children+" ", " "+c.XMLName.Local+" ") {
			t.Errorf("%s holds %s", n.XMLName.Local, c.XMLName.Local)
		}
		c.check(t)
	}
	if may.children != "" && strings.TrimSpace(n.Text) != "" {
		t.Errorf("%s holds the text %q", n.XMLName.Local, n.Text)
	}
}

// readXML reads a whole document and holds every character against the XML standard (XML 1.0, 2.2: Char).
func readXML(t *testing.T, raw []byte) node {
	t.Helper()
	if !utf8.Valid(raw) {
		t.Error("not UTF-8")
	}
	for _, r := range string(raw) {
		if r < 0x20 && r != '\t' && r != '\n' && r != '\r' || r == 0xfffe || r == 0xffff || 0x7f <= r && r < 0xa0 {
			t.Errorf("the character %U has no place in XML", r)
		}
	}
	d := xml.NewDecoder(bytes.NewReader(raw))
	d.Strict = true
	var root node
	if err := d.Decode(&root); err != nil {
		t.Fatalf("not XML: %v\n%s", err, raw)
	}
	if _, err := d.Token(); err != io.EOF {
		if _, err := d.Token(); err != io.EOF {
			t.Errorf("something stands behind the document: %v", err)
		}
	}
	return root
}

func TestEveryJUnitOutputIsReadBack(t *testing.T) {
	passed, failed := 0, 0
	for _, r := range corpus() {
		t.Run(r.name, func(t *testing.T) {
			r.Threshold = diag.Warning
			root := readXML(t, written(t, inJUnit, r.Results))
			root.check(t)
			p, f := checkReport(t, r.Results, root)
			passed, failed = passed+p, failed+f
		})
	}
	if passed < 20 || failed < 100 {
		t.Errorf("%d passed, %d failed: too few to tell", passed, failed)
	}
}

// checkReport holds the cases against the findings, and the sums against the cases.
func checkReport(t *testing.T, r report.Results, root node) (passed, failed int) {
	t.Helper()
	left := map[string][]diag.Finding{}
	for _, f := range r.Findings {
		name := "-"
		if f.At.Known() {
			name = f.At.File.Name
		}
		left[name] = append(left[name], f)
	}
	suites := map[string]bool{}
	var total [4]int
	for _, suite := range root.all("testsuite") {
		name := suite.get("name")
		if suites[name] {
			t.Errorf("the suite %q stands twice", name)
		}
		suites[name] = true
		var sums [4]int
		names := map[string]bool{}
		for _, c := range suite.all("testcase") {
			if names[c.get("name")] || c.get("name") == "" {
				t.Errorf("the case %q stands twice, or has no name", c.get("name"))
			}
			names[c.get("name")] = true
			if len(c.Nodes) == 0 && len(left[name]) == 0 {
				passed++
				sums[0]++
				continue
			}
			if len(left[name]) == 0 {
				t.Fatalf("%s: a case more than findings", name)
			}
			kind := checkCase(t, left[name][0], c)
			left[name] = left[name][1:]
			sums[0]++
			sums[kind]++
		}
		if n := len(left[name]); n > 0 {
			t.Errorf("%s: %d findings are not told", name, n)
		}
		delete(left, name)
		checkSums(t, suite, sums)
		for i := range sums {
			total[i] += sums[i]
		}
	}
	checkSums(t, root, total)
	if len(left) > 0 {
		t.Errorf("files that are not told: %v", left)
	}
	for _, name := range r.Looked {
		if !suites[name] {
			t.Errorf("%q was looked at and has no suite", name)
		}
	}
	return passed, total[1]
}

// checkCase holds one case against its finding and gives its kind: 1 failed, 2 could not be read, 3 skipped.
func checkCase(t *testing.T, f diag.Finding, c node) int {
	t.Helper()
	kind := 1
	want := "failure"
	switch {
	case f.Waived != "" || f.Severity < diag.Warning:
		kind, want = 3, "skipped"
	case f.Rule == "file/unreadable":
		kind, want = 2, "error"
	}
	found := c.all(want)
	if len(found) != 1 || len(c.Nodes) != 1 || !strings.Contains(c.get("name"), f.Rule) {
		t.Errorf("%s %s: the case %q holds %d nodes, %d of them %s", f.Severity, f.Rule, c.get("name"), len(c.Nodes), len(found), want)
		return kind
	}
	says := f.Message
	if f.Waived != "" {
		says = f.Waived
	}
	if !strings.Contains(strings.ToLower(found[0].get("message")), strings.ToLower(shown(says))) {
		t.Errorf("%s: the case says %q, the finding %q", f.Rule, found[0].get("message"), says)
	}
	return kind
}

func checkSums(t *testing.T, n node, sums [4]int) {
	t.Helper()
	told := n.get("tests") + " " + n.get("failures") + " " + n.get("errors") + " " + n.get("skipped")
	if want := fmt.Sprintf("%d %d %d %d", sums[0], sums[1], sums[2], sums[3]); told != want {
		t.Errorf("%s %q: the sums are told as %s, counted %s", n.XMLName.Local, n.get("name"), told, want)
	}
}

// Whatever stands in a file, the report stays XML.
func TestJUnitStaysXML(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(rt, "text")
		f := source.New(string(text), "x.md", text)
		found := []diag.Finding{{Rule: "tag/empty", Severity: diag.Error, At: f.At(0, len(f.Text)), Message: string(text), Do: "]]><!-- &amp; " + string(text)}}
		readXML(t, written(t, inJUnit, results(found)))
	})
}
