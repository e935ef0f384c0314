package compiler_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// slip is one way to spoil a procedure by a single character, at every place of a kind.
type slip struct {
	name   string
	places *regexp.Regexp                // the first group is what is spoilt
	spoil  func(whole, at string) string // gives the whole match with the slip in it
}

// slips are what a writer does without noticing. Each leaves one thing to mend.
var slips = []slip{
	{"a verb without its second letter", regexp.MustCompile(`\{([A-Za-z]{4,})[ }]`), func(whole, at string) string {
		return strings.Replace(whole, at, at[:1]+at[2:], 1)
	}},
	{"a brace that does not close", regexp.MustCompile(`\{[A-Za-z][^{}\\]*(\})`), func(whole, _ string) string {
		return strings.TrimSuffix(whole, "}")
	}},
	{"a row without the second letter of its name", regexp.MustCompile(`(?m)^\| ([A-Za-z][a-z]{3,} ?[a-z ]*) \| +\d`), func(whole, at string) string {
		return strings.Replace(whole, at, at[:1]+at[2:], 1)
	}},
	{"a heading of a list without its second letter", regexp.MustCompile(`(?m)^## (Parts|Tools|Supplies)$`), func(whole, at string) string {
		return strings.Replace(whole, at, at[:1]+at[2:], 1)
	}},
}

// One slip gives one finding, wherever it stands: the clean cases are spoilt at every third place, and no more than one in a
// hundred may raise a second finding. None may pass without any.
func TestASlipAnywhereIsOneFinding(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "clean", "*.md"))
	if err != nil || len(files) == 0 {
		t.Fatal("no clean cases: ", err)
	}
	tried, twice := 0, []string{}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		body := bytes.Index(raw, []byte("\n## "))
		name := filepath.Base(file)
		for _, s := range slips {
			for i, m := range s.places.FindAllSubmatchIndex(raw, -1) {
				if m[0] <= body-1 || i%3 != 0 || bytes.Contains(raw[m[0]:m[1]], []byte("waive")) {
					continue
				}
				spoilt := s.spoil(string(raw[m[0]:m[1]]), string(raw[m[2]:m[3]]))
				text := slices.Concat(raw[:m[0]], []byte(spoilt), raw[m[1]:])
				tried++
				found := compileOne(name, text).Findings
				switch got := marksOf(found); {
				case len(got) == 0:
					t.Errorf("%s: %s passes: %q", name, s.name, spoilt)
				case len(got) > 1:
					twice = append(twice, name+": "+s.name+", "+spoilt+told(found))
				}
			}
		}
	}
	if tried < 300 {
		t.Fatalf("only %d slips were tried", tried)
	}
	if len(twice)*100 > tried {
		t.Errorf("%d of %d slips raise more than one finding:\n%s", len(twice), tried, strings.Join(twice, "\n"))
	}
}
