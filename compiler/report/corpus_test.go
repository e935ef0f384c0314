package report_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/rules"
)

// A run is what check would show of some files.
type run struct {
	name string
	report.Results
}

// corpus is everything that the tests of the formats look at: the faulty and the clean cases, the wrong examples of all rules,
// the library, a file that can't be opened, one that is no text, one that is empty, and no file at all.
var corpus = sync.OnceValue(func() []run {
	runs := []run{{"nothing", results(nil)}}
	runs = append(runs, cases("faulty")...)
	runs = append(runs, cases("clean")...)
	runs = append(runs, examples()...)
	runs = append(runs, procedures())
	odd := map[string]string{
		"empty.md": "", "mark.md": "\ufeff---\ntitle: Ä\n---\n\n## Strip\n\n1. {Remove 4 cuver bolts}.\n", "not-text.md": "---\n\xff\xfe\n",
		"with space, 100%: ü.md": "---\ntitle: X\n---\n1. {remove\x07 it} 🔩 {fit]( <b>&}\n",
		"one-line.md":            strings.Repeat("{unclosed ", 200),
		"lines.md":               "---\ntitle: X\n---\n\n## Strip\n\n1. {Remove the guard\n   over the chain and the\n   rest of it, {tool 13 mm\n   socket}.\n",
		"cr.md":                  "---\rtitle: old line ends\r---\r\r## Strip\r\r1. {Remoove the guard}.\r",
	}
	for _, name := range []string{"empty.md", "mark.md", "not-text.md", "with space, 100%: ü.md", "one-line.md", "cr.md", "lines.md"} {
		runs = append(runs, run{name, looked(results(compile(map[string]string{name: odd[name]}, name)), name)})
	}
	lib := compiler.Open(fstest.MapFS{}, func(path string) string { return path })
	lost := results([]diag.Finding{compiler.Unreadable(lib, "lost.md", "permission denied")})
	lost.Files, lost.Looked = 1, []string{"lost.md"}
	return append(runs, run{"unreadable", lost})
})

func results(found []diag.Finding) report.Results {
	return report.Results{Version: "9.9", Findings: diag.Sort(found), Texts: texts}
}

func texts(rule string) (rules.Text, bool) {
	name, _, _ := strings.Cut(rule, "/")
	for _, f := range compiler.Families() {
		if f.Name == name {
			t, err := f.Text(rule)
			return t, err == nil
		}
	}
	return rules.Text{}, false
}

// compile compiles one file with the others beside it.
func compile(files map[string]string, name string) []diag.Finding {
	fsys := fstest.MapFS{}
	for n, text := range files {
		clean, _ := rules.CutMarks([]byte(text))
		fsys[n] = &fstest.MapFile{Data: clean}
	}
	lib := compiler.Open(fsys, func(path string) string { return path })
	r, err := lib.Compile(name, rules.Options{})
	if err != nil {
		return []diag.Finding{compiler.Unreadable(lib, name, err.Error())}
	}
	return r.Findings
}

func looked(r report.Results, names ...string) report.Results {
	r.Files, r.Looked = len(names), names
	return r
}

// cases gives the cases of a folder of testdata: files, and folders whose job.md is compiled with the others beside it.
func cases(folder string) []run {
	root := filepath.Join("..", "..", "testdata", folder)
	var runs []run
	entries, _ := os.ReadDir(root)
	for _, e := range entries {
		files, main := map[string]string{}, "job.md"
		if !e.IsDir() {
			main = e.Name()
			raw, err := os.ReadFile(filepath.Join(root, main))
			if err != nil || filepath.Ext(main) != ".md" {
				continue
			}
			files[main] = string(raw)
		} else if err := readAll(files, filepath.Join(root, e.Name())); err != nil {
			continue
		}
		runs = append(runs, run{folder + "/" + e.Name(), looked(results(compile(files, main)), main)})
	}
	return runs
}

func readAll(files map[string]string, root string) error {
	return filepath.WalkDir(root, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		raw, err := os.ReadFile(name)
		rel, _ := filepath.Rel(root, name)
		files[filepath.ToSlash(rel)] = string(raw)
		return err
	})
}

// examples gives the wrong examples of all rules.
func examples() []run {
	var runs []run
	for _, f := range compiler.Families() {
		for _, r := range f.Rules {
			t, err := f.Text(r.Name)
			if err != nil {
				continue
			}
			files := map[string]string{}
			for _, e := range t.Wrong {
				files[e.Name] = e.Text
			}
			runs = append(runs, run{r.Name, looked(results(compile(files, t.Wrong[0].Name)), t.Wrong[0].Name)})
		}
	}
	return runs
}

// procedures checks the whole library in one run, waived findings and all.
func procedures() run {
	root := filepath.Join("..", "..", "procedures")
	lib := compiler.Open(os.DirFS(root), func(path string) string { return "procedures/" + path })
	names, _ := filepath.Glob(filepath.Join(root, "*.md"))
	var found []diag.Finding
	var shown []string
	for _, n := range names {
		if r, err := lib.Compile(filepath.Base(n), rules.Options{}); err == nil {
			found = append(found, r.Findings...)
			shown = append(shown, "procedures/"+filepath.Base(n))
		}
	}
	return run{"procedures", looked(results(found), shown...)}
}

// The formats are only tested by what the corpus holds: enough findings, of many rules, with all that a finding may carry.
func TestTheCorpusHoldsEnough(t *testing.T) {
	byRule := map[string]int{}
	var related, elsewhere, fixes, waived, long, findings int
	for _, r := range corpus() {
		for _, f := range r.Findings {
			findings++
			byRule[f.Rule]++
			fixes += len(f.Fixes)
			related += len(f.Related)
			for _, rel := range f.Related {
				if rel.At.File != f.At.File {
					elsewhere++
				}
			}
			if f.Waived != "" {
				waived++
			}
			if f.At.Known() && f.At.File.Line(f.At.Start) != f.At.File.Line(f.At.End) {
				long++
			}
		}
	}
	t.Logf("%d runs, %d findings of %d rules, %d related places (%d in another file), %d fixes, %d waived, %d over several lines",
		len(corpus()), findings, len(byRule), related, elsewhere, fixes, waived, long)
	if findings < 100 || len(byRule) < 80 || related < 30 || elsewhere < 1 || fixes < 8 || waived < 1 || long < 1 {
		t.Error("the corpus has become too thin to test formats on")
	}
}
