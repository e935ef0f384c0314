package compiler_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

// marksOf turns findings into "line rule" for the one-to-one comparison with the marks of a case.
func marksOf(findings []diag.Finding) []string {
	var got []string
	for _, f := range findings {
		if f.Waived != "" {
			continue
		}
		line := 0
		if f.At.Known() {
			line = f.At.File.Line(f.At.Start)
		}
		got = append(got, fmt.Sprintf("%d %s", line, f.Rule))
	}
	slices.Sort(got)
	return got
}

func wanted(wants []rules.Want) []string {
	var list []string
	for _, w := range wants {
		list = append(list, fmt.Sprintf("%d %s", w.Line, w.Rule))
	}
	slices.Sort(list)
	return list
}

// compileOne compiles one text as a library of its own, with a figure to show beside it.
func compileOne(name string, text []byte) compiler.Result {
	fsys := fstest.MapFS{name: {Data: text}}
	lib := compiler.Open(fsys, func(path string) string { return path })
	return lib.CompileText(name, text, rules.Options{})
}

func told(findings []diag.Finding) string {
	var b strings.Builder
	for _, f := range findings {
		line := 0
		if f.At.Known() {
			line = f.At.File.Line(f.At.Start)
		}
		fmt.Fprintf(&b, "\n  line %d, %q: %s: %s; do: %s", line, f.At.Text(), f.Rule, f.Message, f.Do)
	}
	return b.String()
}

func eachCase(t *testing.T, folder string, least int, check func(t *testing.T, name string, raw []byte)) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", folder, "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < least {
		t.Fatalf("only %d cases in testdata/%s, there were to be %d", len(files), folder, least)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".md"), func(t *testing.T) {
			raw, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			check(t, filepath.Base(file), raw)
		})
	}
}

// A faulty case has its findings marked on their lines; a missing finding fails, and so does a surplus one.
func TestFaultyCasesRaiseTheirMarksAndNothingElse(t *testing.T) {
	perRule := map[string]int{}
	eachCase(t, "faulty", 140, func(t *testing.T, name string, raw []byte) {
		text, wants := rules.CutMarks(raw)
		if len(wants) == 0 {
			t.Fatal("the case marks no finding: it would pass with any compiler")
		}
		for _, w := range wants {
			perRule[w.Rule]++
		}
		r := compileOne(name, text)
		if got, want := marksOf(r.Findings), wanted(wants); !slices.Equal(got, want) {
			t.Errorf("found %v, marked %v%s", got, want, told(r.Findings))
		}
	})
	for rule, n := range perRule {
		if n > 4 {
			t.Errorf("%s has %d cases, at most four: another says nothing new", rule, n)
		}
	}
}

// Some slips need more than one file: such a case is a folder, and its job.md is compiled with the others beside it.
func TestFaultyLibrariesRaiseTheirMarksAndNothingElse(t *testing.T) {
	jobs, err := filepath.Glob(filepath.Join("..", "testdata", "faulty", "*", "job.md"))
	if err != nil || len(jobs) < 8 {
		t.Fatalf("only %d cases of several files (%v), there were to be 8", len(jobs), err)
	}
	for _, job := range jobs {
		folder := filepath.Dir(job)
		t.Run(filepath.Base(folder), func(t *testing.T) {
			all := []rules.Example{{Name: "job.md"}}
			err := filepath.WalkDir(folder, func(name string, e os.DirEntry, err error) error {
				if err != nil || e.IsDir() {
					return err
				}
				raw, err := os.ReadFile(name)
				if rel, _ := filepath.Rel(folder, name); rel == "job.md" {
					all[0].Text = string(raw)
				} else {
					all = append(all, rules.Example{Name: filepath.ToSlash(rel), Text: string(raw)})
				}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
			r, wants := compileExample(all)
			if got := marksOf(r.Findings); len(wants) == 0 || !slices.Equal(got, wants) {
				t.Errorf("found %v, marked %v%s", got, wants, told(r.Findings))
			}
		})
	}
}

// A clean case tries to provoke a false alarm.
func TestCleanCasesAreSilent(t *testing.T) {
	eachCase(t, "clean", 60, func(t *testing.T, name string, raw []byte) {
		r := compileOne(name, raw)
		if len(marksOf(r.Findings)) > 0 {
			t.Errorf("not silent:%s", told(r.Findings))
		}
	})
}

// The library of procedures is real: it is clean, and no waiver in it hides anything that is not of the job.
func TestTheLibraryIsClean(t *testing.T) {
	root := filepath.Join("..", "procedures")
	lib := compiler.Open(os.DirFS(root), func(path string) string { return path })
	if n := len(lib.Settings().Faults); n > 0 {
		t.Errorf("the settings have %d faults: %v", n, lib.Settings().Faults)
	}
	count := 0
	err := filepath.WalkDir(root, func(name string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() || filepath.Ext(name) != ".md" {
			return err
		}
		count++
		rel, _ := filepath.Rel(root, name)
		r, err := lib.Compile(filepath.ToSlash(rel), rules.Options{})
		if err != nil {
			return err
		}
		if len(marksOf(r.Findings)) > 0 {
			t.Errorf("%s is not silent:%s", rel, told(r.Findings))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if count < 12 {
		t.Errorf("the library has %d procedures, at least twelve", count)
	}
}
