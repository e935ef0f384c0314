package compiler_test

import (
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"refitcard/compiler"
)

var update = flag.Bool("update", false, "renew the page of all checks")

// pageOfChecks is where the page of all checks stands.
const pageOfChecks = "rules/README.md"

// The page of all checks says what the texts beside the checks say. -update writes it anew.
func TestThePageOfChecksIsInStep(t *testing.T) {
	page, err := compiler.PageOfChecks()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(pageOfChecks, []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	stands, err := os.ReadFile(pageOfChecks)
	if err != nil {
		t.Fatal(err)
	}
	if string(stands) != page {
		t.Errorf("compiler/%s is out of step: go test ./compiler -run PageOfChecks -update", pageOfChecks)
	}
}

// Every link of the table of contents leads to a heading of the page, and no two headings share one.
func TestThePageOfChecksLeadsSomewhere(t *testing.T) {
	page, err := compiler.PageOfChecks()
	if err != nil {
		t.Fatal(err)
	}
	heads := map[string]int{}
	for _, m := range regexp.MustCompile(`(?m)^##+ (.+)$`).FindAllStringSubmatch(page, -1) {
		heads[strings.ReplaceAll(m[1], "/", "")]++
	}
	links := regexp.MustCompile(`\]\(#([^)]*)\)`).FindAllStringSubmatch(page, -1)
	for _, m := range links {
		if heads[m[1]] != 1 {
			t.Errorf("the link to %q meets %d headings", m[1], heads[m[1]])
		}
	}
	if len(links) != len(heads) {
		t.Errorf("%d links lead to %d headings", len(links), len(heads))
	}
}

// basis finds a bracket that says how a source is known, in a letter or in words.
var basis = regexp.MustCompile(`\((c|s|m|c, in reproductions)\)`)

// bracketed finds a letter at the end or the beginning of a bracket: one that was not written out.
var bracketed = regexp.MustCompile(`\([csm],|[ (][csm]\)`)

// Every family says what it looks at, and every source how it is known: read, restated, remembered or common practice; explain
// says it in words.
func TestEverySourceSaysHowItIsKnown(t *testing.T) {
	for _, family := range compiler.Families() {
		if family.About == "" {
			t.Errorf("%s: nothing says what the family looks at", family.Name)
		}
		for _, rule := range family.Rules {
			text, err := family.Text(rule.Name)
			if err != nil {
				t.Fatal(err)
			}
			if !basis.MatchString(text.Source) && !strings.Contains(text.Source, "common practice, no source") {
				t.Errorf("%s: %q does not say how it is known", rule.Name, text.Source)
			}
			words := text.SourceInWords()
			if left := bracketed.FindString(words); left != "" {
				t.Errorf("%s: the letter in %q is not written out", rule.Name, words)
			}
		}
	}
}

// strange finds words that a workshop does not use and that the texts can do without.
var strange = regexp.MustCompile(`(?i)\b(pars(e|er|ed|es|ing)|tokens?|nodes?|AST|lint|linter|syntax|compilers?|ledgers?|rules?)\b`)

// The texts are for people who have never seen a compiler: whole sentences, in the words of the workshop.
func TestTheTextsAreInPlainWords(t *testing.T) {
	for _, family := range compiler.Families() {
		for _, rule := range family.Rules {
			text, err := family.Text(rule.Name)
			if err != nil {
				t.Fatal(err)
			}
			if word := strange.FindString(strings.Join([]string{text.Title, text.What, text.Why, text.Do}, " ")); word != "" {
				t.Errorf("%s: a workshop does not say %q", rule.Name, word)
			}
			if strings.HasSuffix(text.Title, ".") {
				t.Errorf("%s: the title ends with a full stop", rule.Name)
			}
			for _, part := range []string{text.What, text.Why, text.Do} {
				if first := part[:1]; first != strings.ToUpper(first) || !strings.ContainsAny(part[len(part)-1:], `."`) {
					t.Errorf("%s: %q is no whole sentence", rule.Name, part)
				}
			}
		}
	}
}

// No line of a text is longer than the others, so that explain fits a wide terminal.
func TestTheTextsHaveShortLines(t *testing.T) {
	for _, family := range compiler.Families() {
		for _, rule := range family.Rules {
			text, err := family.Text(rule.Name)
			if err != nil {
				t.Fatal(err)
			}
			for _, part := range []string{text.Title, text.What, text.Why, text.Do, text.SourceInWords()} {
				for line := range strings.Lines(part) {
					if n := len([]rune(strings.TrimSuffix(line, "\n"))); n > 118 {
						t.Errorf("%s: a line of %d characters: %q", rule.Name, n, line)
					}
				}
			}
		}
	}
}
