package compiler_test

import (
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// seeds adds every text of the tests and of the library.
func seeds(f *testing.F) {
	f.Helper()
	n := 0
	for _, pattern := range []string{"../procedures/*.md", "../procedures/shared/*.md", "../testdata/clean/*.md", "../testdata/faulty/*.md"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			raw, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			text, _ := rules.CutMarks(raw)
			f.Add(text)
			n++
		}
	}
	if n < 100 {
		f.Fatalf("only %d seeds", n)
	}
}

// Whatever is typed: no panic, every mark inside the file it names, every finding worded, and a second time the same.
func FuzzCompile(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, raw []byte) {
		once, twice := compileFuzzed(raw), compileFuzzed(raw)
		if len(once.Findings) != len(twice.Findings) {
			t.Fatalf("%d findings, then %d", len(once.Findings), len(twice.Findings))
		}
		for i, x := range once.Findings {
			if x.Message != twice.Findings[i].Message || x.Rule != twice.Findings[i].Rule {
				t.Errorf("%s %q, then %s %q", x.Rule, x.Message, twice.Findings[i].Rule, twice.Findings[i].Message)
			}
			if x.Message == "" || x.Do == "" {
				t.Errorf("%s: message %q, do %q", x.Rule, x.Message, x.Do)
			}
			inFile(t, x.Rule, x.At)
			for _, r := range x.Related {
				inFile(t, x.Rule, r.At)
			}
		}
	})
}

func compileFuzzed(raw []byte) compiler.Result {
	lib := compiler.Open(fstest.MapFS{"job.md": {Data: raw}}, func(path string) string { return path })
	return lib.CompileText("job.md", raw, rules.Options{})
}

func inFile(t *testing.T, rule string, at source.Span) {
	t.Helper()
	if at.Known() && (at.Start < 0 || at.End < at.Start || at.End > len(at.File.Text)) {
		t.Errorf("%s: marks %d to %d of %d bytes", rule, at.Start, at.End, len(at.File.Text))
	}
}
