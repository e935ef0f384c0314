package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"refitcard/render/pdf/pdftest"
)

// theMakefile is what a workshop writes to let make spread the work: the first file of each rule is the procedure itself.
const theMakefile = `include cards.d
SHEETS := $(shell sed -n 's/^\([^ ]*-card\.pdf\):.*/\1/p' cards.d)
all: $(SHEETS)
%-card.pdf:
	@echo made $@ of $<
	@cp '$<' '$@'
`

// A real make reads the dependencies that press writes: what is changed in an included file makes anew what takes it in, and
// nothing else.
func TestMakeRemakesWhatDependsOnAnInclude(t *testing.T) {
	gnu := pdftest.Need(t, "make", "that make understands the dependencies of press")
	dir := t.TempDir()
	t.Chdir(dir)
	procedure := func(number, body string) string {
		return "---\ntitle: Job " + number + "\nnumber: " + number + "\nrevision: A\n---\n\n" + body + "\n## Look\n\n1. {Check the guard is on}.\n"
	}
	for name, text := range map[string]string{
		"library/one #1.md":      procedure("ONE", "{include shared/safe.md}\n"),
		"library/two.md":         procedure("TWO", ""),
		"library/shared/safe.md": procedure("SAFE", ""),
		"library/refitcard.yaml": "shop: Workshop\n",
		"Makefile":               theMakefile,
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run(t, done, "press", "library", "-o", "cards", "--deps", "cards.d", "--quiet")
	if deps, _ := os.ReadFile("cards.d"); strings.Contains(string(deps), dir) {
		t.Errorf("the folder of this machine stands in the dependencies:\n%s", deps)
	}
	if out := pdftest.Run(t, gnu, "all"); strings.Contains(out, "made ") {
		t.Errorf("freshly pressed, and make makes\n%s", out)
	}
	later := time.Now().Add(time.Minute)
	for _, c := range []struct{ touched, remade string }{
		{"library/shared/safe.md", "ONE SAFE"}, {"library/two.md", "TWO"}, {"library/refitcard.yaml", "ONE SAFE TWO"},
	} {
		later = later.Add(time.Minute)
		if err := os.Chtimes(c.touched, later, later); err != nil {
			t.Fatal(err)
		}
		if out := pdftest.Run(t, gnu, "all"); remade(out) != c.remade {
			t.Errorf("%s was changed: %q is made anew, want %q\n%s", c.touched, remade(out), c.remade, out)
		}
		now := later.Add(time.Second) // what was made is newer than what it was made of
		for _, n := range []string{"ONE", "TWO", "SAFE"} {
			if err := os.Chtimes("cards/"+n+"-A-card.pdf", now, now); err != nil {
				t.Fatal(err)
			}
		}
	}
	// An include that is taken away stops nothing: what took it in is out of date.
	if err := os.Remove("library/shared/safe.md"); err != nil {
		t.Fatal(err)
	}
	if out := pdftest.Run(t, gnu, "all", "--touch"); strings.Contains(out, "No rule") {
		t.Errorf("make stops at a file that was taken away:\n%s", out)
	}
}

// remade lists the numbers of the cards that make made.
func remade(out string) string {
	var all []string
	for _, n := range []string{"ONE", "SAFE", "TWO"} {
		if strings.Contains(out, "made cards/"+n+"-A-card.pdf") {
			all = append(all, n)
		}
	}
	return strings.Join(all, " ")
}
