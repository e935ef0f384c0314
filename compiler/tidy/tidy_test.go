package tidy_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler"
	"refitcard/compiler/draft"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/tidy"
	"refitcard/compiler/verb"
)

// sample is one procedure of the corpus, with the library it belongs to.
type sample struct {
	name string
	path string
	text []byte
	lib  *compiler.Library
}

func (s sample) read(text []byte) tidy.Reading {
	r := s.lib.CompileText(s.path, text, rules.Options{})
	return tidy.Reading{Proc: r.Proc, Plays: r.Plays, Findings: r.Findings}
}

// tidied gives a text in the one layout, and how many of the tries the proof refused.
func (s sample) tidied(text []byte) (now []byte, refused int) {
	old := s.read(text)
	now = tidy.Text(s.path, text, s.lib.Settings().Verbs, func(next []byte) bool {
		same := tidy.Differ(old, s.read(next)) == ""
		if !same {
			refused++
		}
		return same
	})
	return now, refused
}

func (s sample) broken(text []byte) bool {
	_, broken := tidy.Broken(syntax.Parse(source.New(s.path, s.path, text), s.lib.Settings().Verbs))
	return broken
}

func alone(name string, text []byte) sample {
	lib := compiler.Open(fstest.MapFS{"job.md": {Data: text}}, func(path string) string { return path })
	return sample{name, "job.md", text, lib}
}

// corpus gives every procedure of the library, every clean and faulty case, every draft of the notes, and what a careful writer
// makes of them.
func corpus(t testing.TB) (all []sample) {
	t.Helper()
	root := filepath.Join("..", "..", "procedures")
	lib := compiler.Open(os.DirFS(root), func(path string) string { return path })
	err := fs.WalkDir(os.DirFS(root), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(name) != ".md" {
			return err
		}
		raw, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		all = append(all, sample{"procedures/" + name, name, raw, lib})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{"clean", "faulty"} {
		files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", folder, "*.md"))
		for _, f := range files {
			raw, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			text, _ := rules.CutMarks(raw)
			all = append(all, alone(folder+"/"+filepath.Base(f), text))
		}
	}
	files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "notes", "*"))
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(f, ".want.md") {
			raw = draft.Make(raw, draft.Options{Title: "Notes", Number: "NOTES"}).Text
		}
		all = append(all, alone("notes/"+filepath.Base(f), raw))
	}
	if len(all) < 390 {
		t.Fatalf("only %d procedures", len(all))
	}
	return all
}

// Every procedure there is: tidied once it means the same, a second time nothing changes, and no edit has to be refused: the
// proof is a net, not a way to work.
func TestCorpusKeepsItsMeaning(t *testing.T) {
	changed, broken, all := 0, 0, corpus(t)
	for _, s := range all {
		if s.broken(s.text) {
			broken++
			continue
		}
		now, refused := s.tidied(s.text)
		if why := tidy.Differ(s.read(s.text), s.read(now)); why != "" {
			t.Errorf("%s: %s", s.name, why)
		}
		if refused > 0 {
			t.Errorf("%s: %d tries were refused", s.name, refused)
		}
		if again, _ := s.tidied(now); !bytes.Equal(again, now) {
			t.Errorf("%s: a second time it changes again:\n%s", s.name, firstDifference(now, again))
		}
		if a, b := letters(s.text), letters(now); a != b {
			t.Errorf("%s: letters came or went", s.name)
		}
		if !bytes.Equal(now, s.text) {
			changed++
		}
	}
	t.Logf("%d procedures: %d changed, %d broken and left alone", len(all), changed, broken)
	if changed < 50 || broken < 2 || broken > 20 {
		t.Errorf("%d changed, %d broken", changed, broken)
	}
}

var stepNumber = regexp.MustCompile(`(?m)^[ >]*\d+[.)]`)

var spelling = regexp.MustCompile(`micron|lbf·ft|ft-lb|minutes|min|[^\pL\pN]+|[µxXNnMm]+`)

// letters gives the letters and digits of a text in any order, without those that units and columns move about.
func letters(text []byte) string {
	all := strings.Split(spelling.ReplaceAllString(stepNumber.ReplaceAllString(string(text), ""), ""), "")
	slices.Sort(all)
	return strings.Join(all, "")
}

func firstDifference(a, b []byte) string {
	x, y := strings.Split(string(a), "\n"), strings.Split(string(b), "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return x[i] + "\n" + y[i]
		}
	}
	return "one is longer"
}

const untidy = `---
revision: C
number:   SD-114
# who knows the winch
people: 2
title: Reseal the end cover
---
Intro with two  blanks, {a brace, and
a line end of the writer.
## Parts ##
|Qty|Part|Torque|Spec|Use|Place|
|-|-|-|-|-|-|
|1|end cover||18kg|reuse||
|4|cover bolt|22Nm (16 ft-lb)|M8x30 8.8 socket||holds end cover
## Tools

* 6mm hex bit socket
* torque wrench, 5..50 Nm


## Supplies
- none
## Strip
>WARNING: Falling cover. It crushes. Keep the feet out.

3) {Remove  4 cover bolts } and {remove the
   end cover}.   
4) {Check it}.
   * a note
## Refit

1. {Install the end cover and 4 cover bolts}.
1. {Torque 4 cover bolts to 22Nm(16 ft-lb) crosswise} with the {tool  torque wrench, 5..50 Nm} and {tool 6mm hex bit socket}.


   <!-- ask   the foreman


   again -->
`

const neat = `---
title: Reseal the end cover
number: SD-114
revision: C
# who knows the winch
people: 2
---

Intro with two  blanks, \{a brace, and
a line end of the writer.

## Parts

| Part       | Qty | Spec             | Use   | Place           | Torque             |
|:-----------|----:|:-----------------|:------|:----------------|:-------------------|
| end cover  |   1 | 18 kg            | reuse |                 |                    |
| cover bolt |   4 | M8×30 8.8 socket |       | holds end cover | 22 N·m (16 lbf·ft) |

## Tools

- 6 mm hex bit socket
- torque wrench, 5–50 N·m

## Supplies

- none

## Strip

> **WARNING** Falling cover. It crushes. Keep the feet out.

1. {Remove 4 cover bolts} and {remove the
   end cover}.
2. {Check it}.
   - a note

## Refit

1. {Install the end cover and 4 cover bolts}.
2. {Torque 4 cover bolts to 22 N·m (16 lbf·ft) crosswise} with the {tool torque wrench, 5–50 N·m} and {tool 6 mm hex bit socket}.

   <!-- ask   the foreman


   again -->
`

func TestOneLayout(t *testing.T) {
	text := strings.Replace(untidy, "{a brace", `\{a brace`, 1)
	for _, eol := range []string{"\n", "\r\n"} {
		for _, mark := range []string{"", "\xef\xbb\xbf"} {
			in := mark + strings.ReplaceAll(text, "\n", eol)
			want := mark + strings.ReplaceAll(neat, "\n", eol)
			s := alone("untidy", []byte(in))
			now, refused := s.tidied(s.text)
			if string(now) != want || refused > 0 {
				t.Errorf("line end %q, %d refused: got\n%s", eol, refused, now)
			}
		}
	}
}

// Without a proof that says so nothing is changed, and of edits that can be told apart only the refused ones are left out.
func TestWhatTheProofRefusesStays(t *testing.T) {
	verbs := verb.Standard()
	if now := tidy.Text("job.md", []byte(untidy), verbs, func([]byte) bool { return false }); string(now) != untidy {
		t.Errorf("changed all the same: %s", now)
	}
	noTable := func(text []byte) bool { return bytes.Contains(text, []byte("|1|end cover||18kg|reuse||")) }
	now := string(tidy.Text("job.md", []byte(untidy), verbs, noTable))
	if !strings.Contains(now, "|-|-|") || !strings.Contains(now, "title: Reseal the end cover\nnumber: SD-114") || !strings.Contains(now, "{Remove 4 cover bolts}") {
		t.Errorf("got\n%s", now)
	}
}
