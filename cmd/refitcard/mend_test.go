package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"refitcard/compiler"
	"refitcard/compiler/rules"
)

// call runs the program in a folder with nothing around it.
func call(args ...string) (code int, out, errors string) {
	var o, e bytes.Buffer
	c := Command{In: strings.NewReader(""), Out: &o, Err: &e, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }}
	code = c.Run(context.Background(), args)
	return code, o.String(), e.String()
}

type seen struct {
	Rule, Message, Waived, File string
	Fixes                       []struct{ Safe bool }
}

// look gives what check finds in a file.
func look(t *testing.T, name string) []seen {
	t.Helper()
	_, out, _ := call("check", "--format", "json", name)
	var r struct{ Findings []seen }
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return r.Findings
}

func couldMend(name string, all []seen) (n int) {
	for _, f := range all {
		if f.Waived == "" && len(f.Fixes) > 0 && f.Fixes[0].Safe && f.File == filepath.ToSlash(name) {
			n++
		}
	}
	return n
}

// put writes the files of a case into a folder and gives the path of the first.
func put(t *testing.T, files []rules.Example) string {
	t.Helper()
	dir := t.TempDir()
	for _, f := range files {
		text, _ := rules.CutMarks([]byte(f.Text))
		name := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, files[0].Name)
}

// mendCases gives the wrong examples of all rules and the faulty cases.
func mendCases(t *testing.T) map[string][]rules.Example {
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
	root := filepath.Join("..", "..", "testdata", "faulty")
	entries, _ := os.ReadDir(root)
	for _, e := range entries {
		if raw, err := os.ReadFile(filepath.Join(root, e.Name())); err == nil && filepath.Ext(e.Name()) == ".md" {
			all["faulty/"+e.Name()] = []rules.Example{{Name: "job.md", Text: string(raw)}}
		}
	}
	return all
}

// What mend leaves behind: nothing that it could have mended, nothing that was not there before, and nothing more to do for a
// second call. A dry run touches nothing, and its diff leads to the same text.
func TestMendOnEveryWrongExample(t *testing.T) {
	mended := 0
	cases := mendCases(t)
	for _, name := range slices.Sorted(mapKeys(cases)) {
		t.Run(name, func(t *testing.T) {
			file := put(t, cases[name])
			before, original := look(t, file), read(t, file)
			dry, diff, _ := call("mend", "--dry-run", file)
			if read(t, file) != original {
				t.Fatal("a dry run touched the file")
			}
			code, out, _ := call("mend", file)
			once, after := read(t, file), look(t, file)
			if code != dry || out != "" {
				t.Errorf("the dry run ends with %d, the real one with %d; standard output: %q", dry, code, out)
			}
			if n := couldMend(file, after); n > 0 {
				t.Errorf("%d findings are left that could be mended safely", n)
			}
			for _, f := range after {
				if !slices.ContainsFunc(before, func(b seen) bool { return b.Rule == f.Rule && b.Message == f.Message }) {
					t.Errorf("new: %s: %s", f.Rule, f.Message)
				}
			}
			if n := couldMend(file, before); n > 0 != (once != original) || n > 0 && len(after) > len(before)-n {
				t.Errorf("%d findings could be mended; %d stood before, %d stand after", n, len(before), len(after))
			}
			if patched(t, original, diff) != once {
				t.Errorf("the diff of the dry run leads elsewhere:\n%s", diff)
			}
			if call("mend", file); read(t, file) != once {
				t.Error("a second call changes it again")
			}
			if once != original {
				mended++
				numbers(t, original, once)
			}
		})
	}
	t.Logf("%d of %d cases have something to mend", mended, len(cases))
	if mended < 3 {
		t.Errorf("only %d cases have something to mend", mended)
	}
}

func mapKeys(m map[string][]rules.Example) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

var anyFigure = regexp.MustCompile(`\d+(?:[.,]\d+)?`)

// numbers holds that no count and no value changed: a decimal comma is another spelling of its point.
func numbers(t *testing.T, before, after string) {
	t.Helper()
	a, b := anyFigure.FindAllString(strings.ReplaceAll(before, ",", "."), -1), anyFigure.FindAllString(strings.ReplaceAll(after, ",", "."), -1)
	if !slices.Equal(a, b) {
		t.Errorf("figures changed: %v, now %v", a, b)
	}
}

var hunkHead = regexp.MustCompile(`^@@ -(\d+)(?:,(\d+))? \+\d+(?:,\d+)? @@`)

// patched applies a unified diff by its definition (POSIX diff, "Diff -u Output Format"): lines with a space or a minus must stand
// there, lines with a plus are put in.
func patched(t *testing.T, text, diff string) string {
	t.Helper()
	lines, at := strings.SplitAfter(text, "\n"), 0
	var out strings.Builder
	for _, l := range strings.SplitAfter(diff, "\n") {
		if m := hunkHead.FindStringSubmatch(l); m != nil {
			start, _ := strconv.Atoi(m[1])
			for ; at < start-1; at++ {
				out.WriteString(lines[at])
			}
			continue
		}
		switch {
		case l == "" || strings.HasPrefix(l, "--- ") || strings.HasPrefix(l, "+++ ") || strings.HasPrefix(l, "diff "):
		case l[0] == '+':
			out.WriteString(l[1:])
		case at >= len(lines) || lines[at] != l[1:]:
			t.Fatalf("the diff wants %q at line %d", l[1:], at+1)
		default:
			if l[0] == ' ' {
				out.WriteString(l[1:])
			}
			at++
		}
	}
	return out.String() + strings.Join(lines[at:], "")
}

// A slip of the pen in any word of any tag, or of any cell, of the library is mended back to what stood there, or left alone:
// mend never makes something third of it.
func TestMendNeverMakesSomethingThird(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "procedures", "*.md"))
	words := regexp.MustCompile(`[A-Za-z]{4,}`)
	spans := regexp.MustCompile(`\{[^}]*\}|\|[^\n]*\|`)
	type place struct{ file, start, end int }
	texts, places := make([]string, len(files)), []place{}
	for i, f := range files {
		texts[i] = read(t, f)
		for _, s := range spans.FindAllStringIndex(texts[i], -1) {
			for _, w := range words.FindAllStringIndex(texts[i][s[0]:s[1]], -1) {
				places = append(places, place{i, s[0] + w[0], s[0] + w[1]})
			}
		}
	}
	root := t.TempDir()
	if err := os.CopyFS(root, os.DirFS(filepath.Join("..", "..", "procedures"))); err != nil {
		t.Fatal(err)
	}
	back, left := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		p := rapid.SampledFrom(places).Draw(rt, "place")
		text := texts[p.file]
		wrong := slipIn(rt, text[p.start:p.end])
		name := filepath.Join(root, filepath.Base(files[p.file]))
		spoilt := text[:p.start] + wrong + text[p.end:]
		if err := os.WriteFile(name, []byte(spoilt), 0o644); err != nil {
			rt.Fatal(err)
		}
		call("mend", name)
		switch got := read(t, name); {
		case strings.EqualFold(got, text):
			back++
		case got == spoilt:
			left++
		default:
			rt.Errorf("%s: %q for %q became something third:%s", files[p.file], wrong, text[p.start:p.end], firstDifference(spoilt, got))
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			rt.Fatal(err)
		}
	})
	t.Logf("%d of %d slips were mended back, the others were left", back, back+left)
	if back == 0 || left == 0 {
		t.Errorf("%d mended, %d left: one side was never tried", back, left)
	}
}

// slipIn spoils a word: a letter left out, doubled, changed, or two changed places.
func slipIn(rt *rapid.T, word string) string {
	i := rapid.IntRange(0, len(word)-2).Draw(rt, "at")
	switch rapid.IntRange(0, 3).Draw(rt, "kind") {
	case 0:
		return word[:i] + word[i+1:]
	case 1:
		return word[:i] + word[i:i+1] + word[i:]
	case 2:
		return word[:i] + string(word[i+1]) + string(word[i]) + word[i+2:]
	}
	letter := rapid.RuneFrom(nil, &unicode.RangeTable{R16: []unicode.Range16{{Lo: 'a', Hi: 'z', Stride: 1}}}).Draw(rt, "letter")
	return word[:i] + string(letter) + word[i+1:]
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return fmt.Sprintf("\n  %s\n  %s", x[i], y[i])
		}
	}
	return ""
}

// Somebody saves the file in an editor while mend is at work: what was saved stays, and nothing is written anywhere.
func TestMendDoesNotWriteOverWhatSomebodySaved(t *testing.T) {
	dir := t.TempDir()
	text := "---\ntitle: Take the guard off\nnumber: DR-1\nrevison: A\n---\n\n## Parts\n\n- none\n\n## Tools\n\n- none\n\n## Supplies\n\n- none\n\n## Look\n\n1. {Check the guard is on}.\n"
	a, b := filepath.Join(dir, "a.md"), filepath.Join(dir, "b.md")
	for name, number := range map[string]string{a: "DR-1", b: "DR-2"} {
		if err := os.WriteFile(name, []byte(strings.Replace(text, "DR-1", number, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c := Command{In: strings.NewReader(""), Out: &bytes.Buffer{}, Err: &bytes.Buffer{}, Env: os.LookupEnv, Width: func(any) int { return 0 }}
	s := &session{Command: c, ctx: context.Background(), opt: &options{jobs: 1, colour: "never"}, args: []string{a, b}}
	m, err := s.mending()
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := m.mend(); err != nil || len(m.changed()) != 2 {
		t.Fatalf("%d files are to be written, %v", len(m.changed()), err)
	}
	if err := os.WriteFile(b, []byte("saved"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := m.write(); err == nil || !strings.Contains(err.Error(), "someone else") {
		t.Errorf("the error is %v", err)
	}
	if read(t, b) != "saved" || !strings.Contains(read(t, a), "revison") {
		t.Error("something was written")
	}
}

// Many slips at once, each of which may hide another: what one call leaves, a second leaves too, and no figure changes.
func TestMendingManySlipsEnds(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "procedures", "*.md"))
	root := t.TempDir()
	if err := os.CopyFS(root, os.DirFS(filepath.Join("..", "..", "procedures"))); err != nil {
		t.Fatal(err)
	}
	words := regexp.MustCompile(`[A-Za-z]{4,}`)
	changed := 0
	rapid.Check(t, func(rt *rapid.T) {
		file := rapid.SampledFrom(files).Draw(rt, "file")
		text, name := read(t, file), filepath.Join(root, filepath.Base(file))
		spoilt := text
		for range rapid.IntRange(3, 12).Draw(rt, "slips") {
			places := words.FindAllStringIndex(spoilt, -1)
			w := rapid.SampledFrom(places).Draw(rt, "word")
			spoilt = spoilt[:w[0]] + slipIn(rt, spoilt[w[0]:w[1]]) + spoilt[w[1]:]
		}
		if err := os.WriteFile(name, []byte(spoilt), 0o644); err != nil {
			rt.Fatal(err)
		}
		call("mend", name)
		once := read(t, name)
		if n := couldMend(name, look(t, name)); n > 0 {
			rt.Errorf("%s: %d findings are left that could be mended safely", file, n)
		}
		if call("mend", name); read(t, name) != once {
			rt.Errorf("%s: a second call changes it again:%s", file, firstDifference(once, read(t, name)))
		}
		if once != spoilt {
			changed++
			numbers(t, spoilt, once)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			rt.Fatal(err)
		}
	})
	if changed == 0 {
		t.Error("nothing was ever mended")
	}
}
