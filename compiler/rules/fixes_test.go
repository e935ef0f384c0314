package rules_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
)

// compile compiles the first of some files with the others beside it.
func compile(files []rules.Example) []diag.Finding {
	fsys := fstest.MapFS{}
	for _, f := range files {
		text, _ := rules.CutMarks([]byte(f.Text))
		fsys[f.Name] = &fstest.MapFile{Data: text}
	}
	lib := compiler.Open(fsys, func(path string) string { return path })
	return lib.CompileText(files[0].Name, fsys[files[0].Name].Data, rules.Options{}).Findings
}

// with gives the files as they would be with a fix.
func with(files []rules.Example, fix diag.Fix) []rules.Example {
	var all []rules.Example
	for _, f := range files {
		for _, e := range fix.Edits {
			if e.At.File.Name == f.Name {
				f.Text = string(diag.Apply(e.At.File, fix.Edits))
				break
			}
		}
		all = append(all, f)
	}
	return all
}

// wrongCases gives the wrong examples of all rules, and the faulty cases of one file.
func wrongCases(t *testing.T) map[string][]rules.Example {
	all := map[string][]rules.Example{}
	for _, f := range compiler.Families() {
		for _, r := range f.Rules {
			text, err := f.Text(r.Name)
			if err != nil {
				t.Fatal(err)
			}
			all[r.Name] = text.Wrong
		}
	}
	names, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "faulty", "*.md"))
	for _, n := range names {
		raw, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(n)] = []rules.Example{{Name: "job.md", Text: string(raw)}}
	}
	return all
}

func count(all []diag.Finding, rule string) (n int) {
	for _, f := range all {
		if f.Rule == rule && f.Waived == "" {
			n++
		}
	}
	return n
}

// Whatever is offered, safe or not, does away with its finding.
func TestEveryFixMendsWhatItIsOfferedFor(t *testing.T) {
	fixes, byRule := 0, map[string]int{}
	for name, files := range wrongCases(t) {
		before := compile(files)
		for _, f := range before {
			for _, fix := range f.Fixes {
				fixes++
				byRule[f.Rule]++
				if fix.Title == "" || len(fix.Edits) == 0 {
					t.Errorf("%s: a fix of %s has no title or does nothing", name, f.Rule)
				}
				after := compile(with(files, fix))
				if count(after, f.Rule) >= count(before, f.Rule) {
					t.Errorf("%s: %s: %q leaves it: %q", name, f.Rule, fix.Title, after[0].Message)
				}
				if fix.Safe && len(after) >= len(before) {
					t.Errorf("%s: %s: %q is safe and brings up something else", name, f.Rule, fix.Title)
				}
			}
		}
	}
	t.Logf("%d fixes of %d rules: %v", fixes, len(byRule), byRule)
	if fixes < 12 || len(byRule) < 10 {
		t.Errorf("only %d fixes of %d rules were tried", fixes, len(byRule))
	}
}

// "new" goes before the right name, in the place of "old", and with the right article.
func TestNewIsPutBeforeTheName(t *testing.T) {
	for tag, want := range map[string]string{
		"{Install the cover gasket and the gasket}": "{Install the cover gasket and the new gasket}", // the first in the table is told of
		"{Install the gasket and the cover gasket}": "{Install the new gasket and the cover gasket}",
		"{Install the old cover gasket}":            "{Install the new cover gasket}",
		"{Install cover gasket, gasket}":            "{Install cover gasket, new gasket}",
		"{Install an oil seal}":                     "{Install a new oil seal}",
	} {
		text := "---\ntitle: Renew the gaskets\nnumber: DR-1\nrevision: A\n---\n\n## Parts\n\n| Part | Qty | Use |\n|:--|--:|:--|\n| gasket | 1 | replace |\n| cover gasket | 1 | replace |\n| oil seal | 1 | replace |\n\n" +
			"## Tools\n\n- none\n\n## Supplies\n\n- none\n\n## Strip\n\n1. {Remove the cover gasket, the gasket and the oil seal}.\n2. " + tag + ".\n"
		files := []rules.Example{{Name: "job.md", Text: text}}
		got := ""
		for _, f := range compile(files) {
			if f.Rule != "refit/old-part-back" || len(f.Fixes) == 0 || got != "" {
				continue
			}
			if f.Fixes[0].Safe {
				t.Errorf("%s: which part goes on is for a person to say", tag)
			}
			lines := strings.Split(with(files, f.Fixes[0])[0].Text, "\n")
			got = strings.TrimSuffix(strings.TrimPrefix(lines[len(lines)-2], "2. "), ".")
		}
		if got != want {
			t.Errorf("%s: the offer is %s, it was to be %s", tag, got, want)
		}
	}
}
