package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Somebody saves one of two files while tidy is at work: what was saved stays, and nothing is written anywhere.
func TestTidyDoesNotWriteOverWhatSomebodySaved(t *testing.T) {
	dir := t.TempDir()
	text := "---\nnumber: DR-1\ntitle: Look at the guard\nrevision: A\n---\n\n## Look\n\n3. {Check  the guard is on}.\n"
	a, b := filepath.Join(dir, "a.md"), filepath.Join(dir, "b.md")
	for _, name := range []string{a, b} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c := Command{In: strings.NewReader(""), Out: &bytes.Buffer{}, Err: &bytes.Buffer{}, Env: os.LookupEnv, Width: func(any) int { return 0 }}
	s := &session{Command: c, ctx: context.Background(), opt: &options{jobs: 1, colour: "never"}, args: []string{a, b}}
	jobs, err := s.jobs()
	if err != nil {
		t.Fatal(err)
	}
	all := []tidied{jobs[0].tidied(a), jobs[1].tidied(b)}
	if !all[0].changed() || !all[1].changed() {
		t.Fatal("nothing is to be written")
	}
	if err := os.WriteFile(b, []byte("saved"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := s.writeTidy(all); err == nil || !strings.Contains(err.Error(), "someone else") {
		t.Errorf("the error is %v", err)
	}
	if read(t, b) != "saved" || read(t, a) != text {
		t.Error("something was written")
	}
}

// Whatever check says of a procedure it says of the tidied one, and the dry run's diff leads to what the real run writes.
func TestTidyOnEveryWrongExample(t *testing.T) {
	cases := mendCases(t)
	changed := 0
	for name, files := range cases {
		file := put(t, files)
		before, original := look(t, file), read(t, file)
		_, diff, _ := call("tidy", "--dry-run", file)
		if read(t, file) != original {
			t.Fatalf("%s: a dry run touched the file", name)
		}
		code, out, told := call("tidy", file)
		once, after := read(t, file), look(t, file)
		switch {
		case code == unusable && (once != original || !strings.Contains(told, "left alone")):
			t.Errorf("%s: ends with %d and %q", name, code, told)
		case code != unusable && code != done || out != "":
			t.Errorf("%s: ends with %d, standard output %q", name, code, out)
		case len(after) != len(before):
			t.Errorf("%s: %d findings before, %d after", name, len(before), len(after))
		}
		if patched(t, original, diff) != once {
			t.Errorf("%s: the diff of the dry run leads elsewhere:\n%s", name, diff)
		}
		if call("tidy", file); read(t, file) != once {
			t.Errorf("%s: a second call changes it again", name)
		}
		if once != original {
			changed++
		}
	}
	t.Logf("%d of %d were changed", changed, len(cases))
	if changed < 100 {
		t.Errorf("only %d were changed", changed)
	}
}
