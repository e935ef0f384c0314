//go:build unix

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestHostileWorkGrowsWithTheText counts what the processor does: the program is built so that it counts how often each of its
// statements runs, those of the libraries that read Markdown, YAML and CSV too. The count is the same in every run. Up to a limit
// on what a procedure may hold, some checks take work that grows with the square of it: so no size may take more than a bound,
// and beyond the limits the work may grow no faster than the text, with room for twice as much.
func TestHostileWorkGrowsWithTheText(t *testing.T) {
	if os.Getenv("REFITCARD_LONG") == "" {
		t.Skip("it takes minutes; set REFITCARD_LONG to run it. Not checked: how the work grows")
	}
	program := filepath.Join(t.TempDir(), "counting")
	build := exec.Command("go", "build", "-cover", "-covermode=atomic", "-coverpkg=refitcard/...,github.com/yuin/goldmark/...,go.yaml.in/yaml/v3,encoding/csv", "-o", program, ".")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	const most = int64(2_500_000_000) // statements; 0.7 to 4 thousand million of them take a second
	for _, h := range hostiles() {
		t.Run(h.name, func(t *testing.T) {
			var counts []int64
			for _, n := range []int{32 << 10, 64 << 10, 128 << 10, 256 << 10, 1_000_000} {
				counts = append(counts, statements(t, program, h.lay(t, n)))
			}
			t.Logf("%d", counts)
			for i, c := range counts {
				if c > most {
					t.Errorf("%d statements at the size %d: %v", c, i, counts)
				}
			}
			if last := len(counts) - 1; counts[last] > 8*counts[last-1]+50_000_000 {
				t.Errorf("four times the text takes %d times the work: %v", counts[last]/counts[last-1], counts)
			}
		})
	}
}

// statements runs a check in a folder and counts the statements that it took.
func statements(t *testing.T, program, dir string) int64 {
	t.Helper()
	counted, err := os.MkdirTemp("", "counted") // the reader of the counts takes a comma in a path for two paths
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(counted)
	c := exec.Command(program, "check", "--format", "json", "--jobs", "1", "job.md")
	c.Dir, c.Env = dir, append(os.Environ(), "GOCOVERDIR="+counted)
	if out, _ := c.CombinedOutput(); c.ProcessState.ExitCode() == unusable || bytes.Contains(out, []byte("stumbled")) {
		t.Fatalf("exit %d: %.300s", c.ProcessState.ExitCode(), out)
	}
	profile := filepath.Join(counted, "profile")
	if out, err := exec.Command("go", "tool", "covdata", "textfmt", "-i", counted, "-o", profile).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	f, err := os.Open(profile)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	total := int64(0)
	for lines := bufio.NewScanner(f); lines.Scan(); { // file:from,to statements count
		if fields := strings.Fields(lines.Text()); len(fields) == 3 {
			n, err1 := strconv.ParseInt(fields[1], 10, 64)
			times, err2 := strconv.ParseInt(fields[2], 10, 64)
			if err1 != nil || err2 != nil {
				t.Fatalf("no count: %q", lines.Text())
			}
			total += n * times
		}
	}
	if total < 1000 {
		t.Fatalf("only %d statements were counted", total)
	}
	return total
}

// TestHostileInputTakesUnderASecond is decided by a clock, that of the processor: any input of 1 MiB is answered in a second.
func TestHostileInputTakesUnderASecond(t *testing.T) {
	if os.Getenv("REFITCARD_LONG") == "" {
		t.Skip("a clock decides here, and a busy machine may mislead it: set REFITCARD_LONG to run it")
	}
	program := filepath.Join(t.TempDir(), "refitcard")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var slowest time.Duration
	what := ""
	for _, h := range hostiles() {
		t.Run(h.name, func(t *testing.T) {
			dir := h.lay(t, 1_000_000)
			for _, args := range [][]string{{"check", "--format", "json"}, {"card", "-o", "-"}, {"tidy", "--dry-run"}, {"refit"}} {
				least := time.Hour
				for range 2 {
					c := exec.Command(program, append(args, "job.md")...)
					c.Dir, c.Env = dir, append(os.Environ(), "GOGC=off", "GOMAXPROCS=1")
					_ = c.Run() // most of them are refused
					if use, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
						least = min(least, time.Duration(use.Utime.Nano()))
					}
				}
				if least > slowest {
					slowest, what = least, fmt.Sprintf("%s of %q", args[0], h.name)
				}
				if least > time.Second {
					t.Errorf("%s takes %v", args[0], least)
				}
			}
		})
	}
	t.Logf("the slowest is %s, %v", what, slowest)
}
