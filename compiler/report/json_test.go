package report_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/source"
)

// schema compiles a JSON schema of the tree; formats (such as uri-reference) are held too.
func schema(t *testing.T, file string) *jsonschema.Schema {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// written gives what a format writes, and fails when equal results give unequal bytes.
func written(t *testing.T, format func(*bytes.Buffer, report.Results) error, r report.Results) []byte {
	t.Helper()
	var a, b bytes.Buffer
	if err := format(&a, r); err != nil {
		t.Fatal(err)
	}
	if err := format(&b, r); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("the same results give other bytes the second time (%v)", err)
	}
	return a.Bytes()
}

func inJSON(b *bytes.Buffer, r report.Results) error { return report.JSON(b, r) }

// holds validates a JSON text against a schema.
func holds(t *testing.T, s *jsonschema.Schema, raw []byte) {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatalf("not JSON: %v", err)
	}
	if err := s.Validate(doc); err != nil {
		t.Errorf("not by the schema: %v", err)
	}
}

type told struct {
	Schema, Files int
	Findings      []struct {
		Rule, Severity, File, Message, Waived string
		Line, Column, End_line, End_column    int
		Offset, Length, Step                  int
		Fixes                                 []struct {
			Edits []struct{ Offset, Length int }
		}
		Related []struct {
			File                               string
			Line, Column, End_line, End_column int
		}
	}
}

func TestEveryJSONOutputHoldsToTheSchema(t *testing.T) {
	s := schema(t, "schema.json")
	for _, r := range corpus() {
		t.Run(r.name, func(t *testing.T) {
			raw := written(t, inJSON, r.Results)
			holds(t, s, raw)
			var got told
			if err := json.Unmarshal(raw, &got); err != nil {
				t.Fatal(err)
			}
			if len(got.Findings) != len(r.Findings) || got.Files != r.Files || got.Schema != report.Schema {
				t.Errorf("%d findings in %d files told, there are %d in %d", len(got.Findings), got.Files, len(r.Findings), r.Files)
			}
			for i, f := range got.Findings {
				checkPlace(t, r.Findings[i], f.File, f.Line, f.Column, f.End_line, f.End_column, f.Offset, f.Length)
				for k, fix := range f.Fixes {
					for n, e := range fix.Edits {
						at := r.Findings[i].Fixes[k].Edits[n].At
						if at.File != r.Findings[i].At.File {
							t.Errorf("%s: a fix edits %q, and the finding stands in %q: JSON can't tell", f.Rule, at.File.Name, f.File)
						}
						if got := onDisk(at.File)[e.Offset : e.Offset+e.Length]; string(got) != at.Text() {
							t.Errorf("%s: the edit takes out %q, it was to take out %q", f.Rule, got, at.Text())
						}
					}
				}
				for k, rel := range f.Related {
					at := r.Findings[i].Related[k].At
					if !at.Known() {
						continue
					}
					if got := between(at.File, rel.Line, rel.Column, rel.End_line, rel.End_column); got != at.Text() {
						t.Errorf("%s: the related place holds %q, it was to hold %q", f.Rule, got, at.Text())
					}
				}
			}
		})
	}
}

func onDisk(f *source.File) []byte {
	if f.Mark > 0 {
		return append([]byte("\xef\xbb\xbf"), f.Text...)
	}
	return f.Text
}

// checkPlace holds bytes and columns of one finding against each other, each worked out from the file anew.
func checkPlace(t *testing.T, f diag.Finding, file string, line, column, endLine, endColumn, offset, length int) {
	t.Helper()
	if !f.At.Known() {
		if file != "" || line+column+endLine+endColumn+offset+length != 0 {
			t.Errorf("%s: a place is told, and there is none", f.Rule)
		}
		return
	}
	if got := string(onDisk(f.At.File)[offset : offset+length]); got != f.At.Text() {
		t.Errorf("%s: bytes %d to %d are %q, the mark is %q", f.Rule, offset, offset+length, got, f.At.Text())
	}
	if got := between(f.At.File, line, column, endLine, endColumn); got != f.At.Text() {
		t.Errorf("%s: %d:%d to %d:%d is %q, the mark is %q", f.Rule, line, column, endLine, endColumn, got, f.At.Text())
	}
}

// between cuts the text between two places out of a file, by counting lines and code points and nothing else.
func between(f *source.File, line, column, endLine, endColumn int) string {
	from, to := offsetOf(string(f.Text), line, column), offsetOf(string(f.Text), endLine, endColumn)
	if from < 0 || to < from {
		return fmt.Sprintf("(no such place: %d to %d)", from, to)
	}
	return string(f.Text[from:to])
}

func offsetOf(text string, line, column int) int {
	at := 0
	for ; line > 1; line-- {
		n := strings.IndexAny(text[at:], "\r\n")
		if n < 0 {
			return -1
		}
		at += n + 1
		if text[at-1] == '\r' && strings.HasPrefix(text[at:], "\n") {
			at++
		}
	}
	for ; column > 1; column-- {
		if at >= len(text) {
			return -1
		}
		_, n := utf8.DecodeRuneInString(text[at:])
		at += n
	}
	return at
}

// The schema must be able to refuse: each of these is a valid output with one thing spoilt.
func TestTheSchemaRefusesWhatIsWrong(t *testing.T) {
	s := schema(t, "schema.json")
	var good []byte
	for _, r := range corpus() {
		if len(r.Findings) > 0 && len(r.Findings[0].Fixes) > 0 && len(r.Findings[0].Related) == 0 {
			good = written(t, inJSON, r.Results)
			break
		}
	}
	if good == nil {
		t.Fatal("no output with a fix to spoil")
	}
	for _, c := range []struct{ from, to string }{
		{`"severity": "`, `"severity": "very `},
		{`"offset"`, `"offzet"`},
		{`"waived": ""`, `"waived": null`},
		{`"column": `, `"column": -`},
		{`"schema": 1`, `"schema": 2`},
		{`"safe": `, `"safe": 1, "x": `},
		{`"rule": "`, `"rule": "/`},
	} {
		bad := bytes.Replace(good, []byte(c.from), []byte(c.to), 1)
		if bytes.Equal(bad, good) {
			t.Errorf("%s does not occur", c.from)
			continue
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(bad))
		if err != nil {
			t.Fatal(err)
		}
		if s.Validate(doc) == nil {
			t.Errorf("the schema lets %s pass", c.to)
		}
	}
}
