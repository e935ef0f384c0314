package report_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/report"
)

// A procedure with pieces cut out and bytes put in gives odd findings at odd places; every format holds to its rules on them too.
func TestEveryFormatOnSpoiltFiles(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("..", "..", "testdata", "clean", "*.md"))
	if err != nil || len(names) < 20 {
		t.Fatalf("%d files to spoil (%v)", len(names), err)
	}
	ours, standard := schema(t, "schema.json"), schema(t, sarifSchemaFile)
	findings := 0
	rapid.Check(t, func(rt *rapid.T) {
		raw, err := os.ReadFile(rapid.SampledFrom(names).Draw(rt, "file"))
		if err != nil {
			rt.Fatal(err)
		}
		for range rapid.IntRange(1, 4).Draw(rt, "times") {
			i := rapid.IntRange(0, len(raw)).Draw(rt, "at")
			n := rapid.IntRange(0, min(30, len(raw)-i)).Draw(rt, "cut")
			put := rapid.SampledFrom([]string{"", "{", "}", "{remoove ", "\x00", "\xff", "é\u0301", "排🔩", "\r", "\n\n", "|", "\t", "\u202e", "> WARNING ", "```", "1,5 mm"}).Draw(rt, "put")
			raw = append(append(append([]byte{}, raw[:i]...), put...), raw[i+n:]...)
		}
		if rapid.Bool().Draw(rt, "mark") {
			raw = append([]byte("\xef\xbb\xbf"), raw...)
		}
		r := looked(results(compile(map[string]string{"job.md": string(raw)}, "job.md")), "job.md")
		findings += len(r.Findings)
		holds(t, ours, written(t, inJSON, r))
		sarif := written(t, inSARIF, r)
		holds(t, standard, sarif)
		checkSARIF(t, r, readSARIF(t, sarif))
		root := readXML(t, written(t, inJUnit, r))
		root.check(t)
		checkJSONPlaces(t, r)
		checkCarets(t, r)
		if t.Failed() {
			t.Fatalf("on %q", raw) // the first one is told; rapid could not tell it from those that follow
		}
	})
	if findings < 50 {
		t.Errorf("only %d findings came up", findings)
	}
}

func checkJSONPlaces(t *testing.T, r report.Results) {
	t.Helper()
	var b bytes.Buffer
	if err := report.JSON(&b, r); err != nil {
		t.Fatal(err)
	}
	var got told
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	for i, f := range got.Findings {
		checkPlace(t, r.Findings[i], f.File, f.Line, f.Column, f.End_line, f.End_column, f.Offset, f.Length)
	}
}
