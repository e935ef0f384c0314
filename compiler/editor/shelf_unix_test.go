//go:build unix

package editor_test

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"refitcard/compiler"
	"refitcard/compiler/editor"
	"refitcard/compiler/rules"
)

// A pipe in a library is never opened: nobody writes into it, and the editor would wait for ever.
func TestAPipeIsNotWaitedFor(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.md"), 0o600); err != nil {
		t.Fatal(err)
	}
	s := editor.NewShelf(os.DirFS(dir))
	s.Put("job.md", []byte(strings.Replace(job, "## Strip", "## Before\n\n{include pipe.md}\n\n## Strip", 1)))
	r, err := s.Compile("job.md")
	if err != nil || len(r.Findings) != 1 || r.Findings[0].Rule != "include/missing" {
		t.Errorf("%v, %+v", err, r.Findings)
	}
}

// A file is read once for as long as it stays as it is, and again when it changes, also without a word from the editor.
func TestFilesAreReadWhenTheyChange(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "job.md")
	write := func(text string, at time.Time) {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(name, at, at); err != nil {
			t.Fatal(err)
		}
	}
	count := func(s *editor.Shelf) int {
		r, err := s.Compile("job.md")
		if err != nil {
			t.Fatal(err)
		}
		return len(r.Findings)
	}
	begun := time.Unix(1_700_000_000, 0)
	write(job, begun)
	s := editor.NewShelf(os.DirFS(dir))
	if n := count(s); n != 0 {
		t.Errorf("%d findings", n)
	}
	slip := strings.Replace(job, "{Remove 12", "{Remove 10", 1)
	write(slip, begun) // as long, and of the same time: nobody can tell
	if n := count(s); n != 0 {
		t.Error("the file was read though it seems to be as it was")
	}
	write(slip, begun.Add(time.Second))
	if n := count(s); n == 0 {
		t.Error("the file has changed and was not read")
	}
	s.Put("job.md", []byte(job))
	if n := count(s); n != 0 {
		t.Errorf("%d findings in what is being written", n)
	}
	s.Drop("job.md")
	if n := count(s); n == 0 {
		t.Error("what was being written is given up, and counts")
	}
	fresh, err := compiler.Open(os.DirFS(dir), func(path string) string { return path }).Compile("job.md", rules.Options{})
	if err != nil || len(fresh.Findings) != count(s) {
		t.Errorf("%v: a fresh compile finds %d", err, len(fresh.Findings))
	}
}
