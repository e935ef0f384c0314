package refit_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/assembly"
	"refitcard/compiler/diag"
	"refitcard/compiler/refit"
	"refitcard/compiler/rules"
)

// sample is one procedure of the corpus, with the library it belongs to.
type sample struct {
	name string
	path string
	text string
	lib  *compiler.Library
}

func (s sample) compile(text string) compiler.Result {
	return s.lib.CompileText(s.path, []byte(text), rules.Options{})
}

// corpus gives the procedures of the library and the clean cases.
func corpus(t testing.TB) (all []sample) {
	t.Helper()
	root := filepath.Join("..", "..", "procedures")
	lib := compiler.Open(os.DirFS(root), func(path string) string { return path })
	err := fs.WalkDir(os.DirFS(root), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(name) != ".md" {
			return err
		}
		raw, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		all = append(all, sample{"procedures/" + name, name, string(raw), lib})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "clean", "*.md"))
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		lib := compiler.Open(fstest.MapFS{"job.md": {Data: raw}}, func(path string) string { return path })
		all = append(all, sample{"clean/" + filepath.Base(f), "job.md", string(raw), lib})
	}
	if len(all) < 150 {
		t.Fatalf("only %d procedures", len(all))
	}
	return all
}

var (
	stageHead = regexp.MustCompile(`(?m)^## .*$`)
	stepHead  = regexp.MustCompile(`(?m)^\d+\. `)
	fenced    = regexp.MustCompile("(?ms)^```.*?^```\n")
)

// cuts gives a procedure cut off behind each of its stages but the last. Drawings that stand there are kept: they are
// declarations.
func cuts(text string) (list []string) {
	heads := stageHead.FindAllStringIndex(text, -1)
	first := true
	for _, h := range stepHead.FindAllStringIndex(text, -1) {
		if h[0] > heads[0][0] && strings.Contains(text[heads[0][0]:h[0]], "\n1. ") {
			list = append(list, text[:h[0]]+strings.Join(fenced.FindAllString(text[h[0]:], -1), "\n"))
		}
	}
	for _, h := range heads {
		switch strings.ToLower(strings.TrimSpace(text[h[0]+3 : h[1]])) {
		case "parts", "tools", "supplies":
			continue
		}
		if !first {
			list = append(list, text[:h[0]]+strings.Join(fenced.FindAllString(text[h[0]:], -1), "\n"))
		}
		first = false
	}
	return list
}

// written cuts nothing: it writes the stage that a text lacks, as the command does.
func written(s sample, text string) (string, refit.Stage) {
	r := s.compile(text)
	stage := refit.Write(r.Proc, r.Plays, s.lib.Settings().Verbs, refit.Loose{})
	full := string(refit.Add([]byte(text), stage))
	again := s.compile(full)
	if open := refit.Left(again.Proc, again.Findings); len(open.Idle) > 0 || open.Untested {
		stage = refit.Write(r.Proc, r.Plays, s.lib.Settings().Verbs, open)
		full = string(refit.Add([]byte(text), stage))
	}
	return full, stage
}

// deepest is the one cut behind which the most is off, slack, open, drained and isolated: where the strip is done; of several the
// last.
func deepest(s sample) []string {
	most, best := 0, ""
	for _, text := range cuts(s.text) {
		n := 0
		for _, p := range s.compile(text).Plays {
			for _, d := range p.Due {
				if d.Kind != assembly.DueChange && d.Act != nil {
					n += d.N
				}
			}
		}
		if n > 0 && n >= most {
			most, best = n, text
		}
	}
	if best == "" {
		return nil
	}
	return []string{best}
}

func due(r compiler.Result) (n int) {
	for _, p := range r.Plays {
		n += len(p.Due)
	}
	return n
}

// left gives the findings of a compile that are no question and not there before the stage was cut.
func left(r compiler.Result) (all []diag.Finding) {
	for _, f := range r.Findings {
		if f.Waived == "" && f.Rule != "tag/question" {
			all = append(all, f)
		}
	}
	return all
}

func TestFigures(t *testing.T) {
	rulesLeft := map[string]int{}
	tried, clean, steps, questions := 0, 0, 0, 0
	for _, s := range corpus(t) {
		all := cuts(s.text)
		if os.Getenv("ALL") == "" {
			all = deepest(s)
		}
		for i, text := range all {
			before := s.compile(text)
			if due(before) == 0 {
				continue
			}
			full, stage := written(s, text)
			r := s.compile(full)
			tried++
			steps += stage.Steps
			questions += stage.Questions
			bad := left(r)
			if len(bad) == 0 {
				clean++
			}
			for _, f := range bad {
				rulesLeft[f.Rule]++
				if want := os.Getenv("SHOW"); want != "" && strings.Contains(f.Rule, want) {
					fmt.Printf("%s cut %d: %s: %s [%s]\n%s\n", s.name, i, f.Rule, f.Message, f.At.Text(), stage.Text)
				}
			}
		}
	}
	var names []string
	for r, n := range rulesLeft {
		names = append(names, fmt.Sprintf("%4d %s", n, r))
	}
	sort.Strings(names)
	t.Logf("%d cuts, %d clean but for questions; %d steps, %d questions\n%s", tried, clean, steps, questions, strings.Join(names, "\n"))
}
