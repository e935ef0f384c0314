package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"refitcard/compiler"
	"refitcard/compiler/library"
	"refitcard/compiler/quantity"
	"refitcard/compiler/resolve"
	"refitcard/compiler/verb"
	"refitcard/render/pdf/pdftest"
	"refitcard/templates"
)

// The sheets tell of every key, column, verb, unit and check that the compiler knows, and of no other.
func TestTheLanguageSheetsTellOfAll(t *testing.T) {
	for what, c := range map[string]struct {
		known []string
		about map[string]string
	}{
		"key": {resolve.FrontKeys(), aboutKeys}, "column": {resolve.PartColumns(), aboutColumns}, "setting": {library.SettingKeys(), aboutSettings},
		"column of a list": {slices.Concat(library.CribColumns(), library.StockColumns()), aboutLists},
	} {
		for _, k := range c.known {
			if c.about[k] == "" {
				t.Errorf("nothing is said of the %s %q", what, k)
			}
		}
		if len(c.known) != len(c.about) {
			t.Errorf("something is said of a %s that nobody knows: %v", what, c.about)
		}
	}
	text := referenceText(languageReference())
	for _, v := range verb.Standard().All() {
		row := strings.Contains(text, "\n  "+v.Name+" ")
		if under := verb.Standard().Opens(v); told(v) {
			row = under != nil && !told(under) && strings.Contains(text, "undone by "+v.Name)
		}
		for _, s := range v.Also {
			row = row && strings.Contains(text, s)
		}
		if !row {
			t.Errorf("the verb %q, or another spelling of it, is missing", v.Name)
		}
	}
	for _, u := range quantity.Units() {
		if !strings.Contains(text, u.Name) {
			t.Errorf("the unit %q is missing", u.Name)
		}
	}
	for _, f := range compiler.Families() {
		for _, r := range f.Rules {
			if !strings.Contains(text, strings.TrimPrefix(r.Name, f.Name+"/")) {
				t.Errorf("the check %q is missing", r.Name)
			}
		}
	}
}

// The procedure on the sheet is a whole one, without a finding, and lies as tidy would lay it.
func TestTheSampleOnTheLanguageSheetsIsClean(t *testing.T) {
	file := pdftest.File(t, "sample.md", []byte(strings.Join(sample, "\n")+"\n"))
	_, problems := run(t, done, "check", "--fail-on", "advice", file)
	if strings.TrimSpace(problems) != "1 procedure, nothing to report" {
		t.Error(problems)
	}
}

// The language stands on two sheets of paper, on A4 on one side of each, and every word of it is there.
func TestTheLanguageStandsOnTwoSheets(t *testing.T) {
	reader := pdftest.Need(t, "pdftotext", "that the sheets of the language hold all their words")
	for paper, most := range map[string]int{"a4": 2, "letter": 4} {
		file := filepath.Join(t.TempDir(), "language.pdf")
		run(t, done, "explain", "language", "-o", file, "--paper", paper)
		pages := strings.Split(strings.TrimRight(pdftest.Run(t, reader, "-layout", file, "-"), "\f"), "\f")
		if len(pages) > most {
			t.Fatalf("%s: %d pages", paper, len(pages))
		}
		all := oneLine(strings.Join(pages, " "))
		for _, part := range languageReference().Parts {
			for _, e := range part.Entries {
				for w := range strings.FieldsSeq(oneLine(e.Term + " " + e.Text)) {
					if !strings.Contains(all, w) {
						t.Errorf("%s: %q of %q is missing", paper, w, e.Term)
					}
				}
			}
		}
	}
	run(t, unusable, "explain", "language", "-o", filepath.Join(t.TempDir(), "l.pdf"), "--paper", "a6")
	run(t, unusable, "explain", "torque", "-o", filepath.Join(t.TempDir(), "l.pdf"))
}

func oneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '\f' }), " ")
}

var block = regexp.MustCompile("(?ms)^```(\\w+)(?: (\\S+))?\n(.*?)^```$")

// The first procedure is walked through as a reader would: files are written, changed, and every answer is the one that stands
// there.
func TestTheFirstProcedureGoesAsItIsTold(t *testing.T) {
	t.Chdir(t.TempDir())
	steps := block.FindAllStringSubmatch(templates.First, -1)
	if len(steps) < 10 {
		t.Fatalf("%d blocks", len(steps))
	}
	answer, code := "", 0
	for _, s := range steps {
		kind, name, body := s[1], s[2], s[3]
		switch kind {
		case "markdown":
			if err := os.WriteFile(name, []byte(body), 0o644); err != nil {
				t.Fatal(err)
			}
		case "diff":
			edited(t, name, body)
		case "output": // the beginning of the last answer
			if !strings.HasPrefix(answer, body) || code != found {
				t.Errorf("exit %d, answer:\n%swant:\n%s", code, answer, body)
			}
		case "console":
			for _, c := range strings.Split("\n"+strings.TrimSpace(body), "\n$ ")[1:] {
				command, want, _ := strings.Cut(c, "\n")
				answer, code = typedIn(t, command)
				if want = strings.TrimSpace(want); want != "" && strings.TrimSpace(answer) != want {
					t.Errorf("$ %s\n%swant:\n%s", command, answer, want)
				}
			}
		default:
			t.Errorf("nobody knows what to do with a block of %s", kind)
		}
	}
	for _, sheet := range []string{"card", "record", "pick", "labels", "review"} {
		if _, err := os.Stat("SP-7-A-" + sheet + ".pdf"); err != nil {
			t.Error(err)
		}
	}
}

// typedIn runs a command of the text and gives what a terminal would show.
func typedIn(t *testing.T, command string) (string, int) {
	t.Helper()
	args := strings.Fields(command)
	if args[0] != "refitcard" {
		t.Fatalf("%q is not run by this program", command)
	}
	var screen bytes.Buffer
	c := Command{In: strings.NewReader(""), Out: &screen, Err: &screen, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }}
	code := c.Run(context.Background(), args[1:])
	return screen.String(), code
}

// edited replaces the lines with "-" by those with "+".
func edited(t *testing.T, name, diff string) {
	t.Helper()
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var out, in []string
	for line := range strings.Lines(diff) {
		switch line[0] {
		case '-':
			out = append(out, strings.TrimSuffix(line[1:], "\n"))
		case '+':
			in = append(in, strings.TrimSuffix(line[1:], "\n"))
		}
	}
	from := strings.Join(out, "\n")
	if strings.Count(string(raw), from) != 1 {
		t.Fatalf("%q stands %d times in %s", from, strings.Count(string(raw), from), name)
	}
	if err := os.WriteFile(name, []byte(strings.Replace(string(raw), from, strings.Join(in, "\n"), 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}
