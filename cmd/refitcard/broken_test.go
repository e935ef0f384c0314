//go:build linux

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A writer is a call that writes, in a folder that holds all it needs.
type writer struct {
	name  string
	args  []string
	lay   map[string]string // files that stand there before
	first []string          // a call that makes something else that it needs
}

// Texts that the writers work on.
const (
	sound  = cleanJob
	slip   = front + "## Parts\n\n| Part | Qty |\n|:--|--:|\n| end cover | 1 |\n\n## Strip\n\n1. {Remove the end covre}. {Install the end cover}.\n"
	untidy = front + "## Parts\n\n| Part | Qty |\n|:--|--:|\n| end cover|1|\n\n## Strip\n\n1. {Remove the end cover}.\n1. {Install the end cover}.\n"
	opened = front + "## Parts\n\n| Part | Qty |\n|:--|--:|\n| end cover | 1 |\n\n## Strip\n\n1. {Remove the end cover}.\n"
)

func writers() []writer {
	job := map[string]string{"job.md": sound, "out.pdf": "what stood here", "out.json": "what stood here", "out.md": "what stood here"}
	return []writer{
		{name: "card", args: []string{"card", "-o", "out.pdf", "job.md"}, lay: job},
		{name: "mend", args: []string{"mend", "job.md"}, lay: map[string]string{"job.md": slip}},
		{name: "new", args: []string{"new", "fresh.md"}, lay: map[string]string{}},
		{name: "press", args: []string{"press", "job.md", "-o", "out/", "--deps", "all.d"}, lay: job},
		{name: "record", args: []string{"record", "-o", "out.pdf", "job.md"}, lay: job},
		{name: "pick", args: []string{"pick", "-o", "out.pdf", "job.md"}, lay: job},
		{name: "labels", args: []string{"labels", "-o", "out/", "job.md"}, lay: map[string]string{"job.md": untidy}},
		{name: "review", args: []string{"review", "-o", "out/", "job.md"}, lay: job},
		{name: "check", args: []string{"check", "--format", "json", "-o", "out.json", "job.md"}, lay: job},
		{name: "tidy", args: []string{"tidy", "job.md"}, lay: map[string]string{"job.md": untidy}},
		{name: "refit", args: []string{"refit", "job.md", "-o", "out.md"}, lay: map[string]string{"job.md": opened, "out.md": "what stood here"}},
		{name: "draft", args: []string{"draft", "notes.txt"}, lay: map[string]string{"notes.txt": "Take off the end cover.\nPut it back.\n"}},
		{name: "source", args: []string{"source", "job.pdf", "-o", "found/"}, lay: map[string]string{"job.md": sound}, first: []string{"card", "-o", "job.pdf", "job.md"}},
	}
}

// TestNothingIsLost breaks every call of the system that a writing verb makes, one at a time: it fails, or the program is killed
// there. Afterwards each file is the old one or the new one, whole; nothing else lies about, and after the next run nothing
// that a killed one left.
func TestNothingIsLost(t *testing.T) {
	watch := stracer(t)
	program := built(t)
	calls := []string{"write", "fsync", "fchmod", "renameat", "linkat", "unlinkat", "mkdirat", "flock"}
	all := writers()
	if os.Getenv("REFITCARD_LONG") == "" {
		t.Log("not checked: ten of the verbs, and calls that open and close; REFITCARD_LONG does")
		all = all[:3]
	} else {
		calls = append(calls, "openat", "close", "newfstatat", "getdents64", "read")
	}
	broken := 0
	for _, w := range all {
		t.Run(w.name, func(t *testing.T) {
			_, _, want := w.run(t, program, nil)
			for _, call := range calls {
				for _, how := range ways(call) {
					for n := 1; n < 2000; n++ {
						inject := fmt.Sprintf("inject=%s:%s:when=%d", call, how, n)
						hit, reading, dir := w.run(t, program, append(watch, "-e", inject))
						if !hit {
							break
						}
						broken++
						if reading {
							continue
						}
						w.look(t, inject, dir, want, how == "signal=KILL")
						w.again(t, program, inject, dir, want)
					}
				}
			}
		})
	}
	if broken < 50 {
		t.Errorf("only %d calls were broken", broken)
	}
	t.Logf("%d calls of the system were broken", broken)
}

// ways lists how a call is broken. One that reads is no part of the writing: the program is killed there, and that is all; what
// can't be read is told of, and an index may lack it.
func ways(call string) []string {
	switch call {
	case "read", "newfstatat", "getdents64":
		return []string{"signal=KILL"}
	}
	return []string{"error=ENOSPC", "error=EIO", "error=EACCES", "signal=KILL"}
}

// openedInput finds a call that was broken when it opened the procedure to read it. A report and an index tell that it can't be
// read: they are neither the old ones nor those of a run that nothing broke, and right.
var openedInput = regexp.MustCompile(`(?m)^.*openat\([^\n]*"job\.md", O_RDONLY[^\n]*INJECTED`)

// run makes the folder and does the call in it, under the program that breaks it, if any. hit tells whether anything was broken,
// reading whether that was the opening of the procedure.
func (w writer) run(t *testing.T, program string, under []string) (hit, reading bool, dir string) {
	t.Helper()
	dir = t.TempDir()
	for name, text := range w.lay {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if w.first != nil {
		first := exec.Command(program, w.first...)
		first.Dir = dir
		if out, err := first.CombinedOutput(); err != nil {
			t.Fatalf("%q: %v: %s", w.first, err, out)
		}
	}
	log := filepath.Join(t.TempDir(), "log")
	args := append([]string{program}, w.args...)
	if under != nil {
		args = append(append(append([]string{}, under...), "-o", log), args...)
	}
	c := exec.Command(args[0], args[1:]...)
	c.Dir = dir
	c.Env = append(os.Environ(), "GOMAXPROCS=1")
	out, err := c.CombinedOutput()
	if under == nil {
		if code := c.ProcessState.ExitCode(); code != done && code != found {
			t.Fatalf("%q: %v: %s", args, err, out)
		}
		return false, false, dir
	}
	told, _ := os.ReadFile(log)
	hit = bytes.Contains(told, []byte("INJECTED")) || c.ProcessState.ExitCode() == -1 // killed, as its program was
	if bytes.Contains(out, []byte("stumbled")) || bytes.Contains(out, []byte("goroutine ")) {
		t.Errorf("%q: %s", args, out)
	}
	return hit, openedInput.Match(told), dir
}

// look holds a folder against what it was, and against what it would be had nothing broken.
func (w writer) look(t *testing.T, inject, dir, want string, killed bool) {
	t.Helper()
	for name, data := range files(t, dir) {
		now, isNew := files(t, want)[name]
		old, isOld := w.lay[name]
		switch {
		case isNew && data == now || isOld && data == old:
		case killed && strings.HasPrefix(filepath.Base(name), tempMark):
		default:
			t.Errorf("%s: %q holds %d bytes that are neither the old ones nor the new ones", inject, name, len(data))
		}
	}
	for name := range w.lay {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Errorf("%s: %q is gone", inject, name)
		}
	}
}

// again does the same call with nothing broken: all is as it should be then, and nothing is left of the run before.
func (w writer) again(t *testing.T, program, inject, dir, want string) {
	t.Helper()
	c := exec.Command(program, w.args...)
	c.Dir = dir
	out, err := c.CombinedOutput()
	if code := c.ProcessState.ExitCode(); code != done && code != found && !bytes.Contains(out, []byte("is there already")) {
		t.Errorf("%s: the run after it: %v: %s", inject, err, out)
	}
	now, should := files(t, dir), files(t, want)
	for name := range now {
		if strings.HasPrefix(filepath.Base(name), tempMark) {
			t.Errorf("%s: %q is left after the next run", inject, name)
		}
	}
	for name, data := range should {
		if now[name] != data {
			t.Errorf("%s: %q is not as it should be after the next run", inject, name)
		}
	}
}

// files reads all files below a folder; of those that a run remembers by its program, only that they are there.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		all[rel] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// stracer gives the words that call strace, which breaks calls of the system.
func stracer(t *testing.T) []string {
	t.Helper()
	if _, err := exec.LookPath("strace"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("strace is not installed: nobody breaks the calls of the system")
		}
		t.Skip("strace is not installed, so not checked: what is lost when the disk is full or the program is killed")
	}
	if out, err := exec.Command("strace", "-f", "-qq", "-o", os.DevNull, "true").CombinedOutput(); err != nil {
		t.Skipf("this machine lets no program watch another (%s), so not checked: what is lost when the disk is full or the program is killed", bytes.TrimSpace(out))
	}
	return []string{"strace", "-f", "-qq"}
}

// built makes the program.
func built(t *testing.T) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "refitcard")
	if out, err := exec.Command("go", "build", "-o", name, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return name
}
