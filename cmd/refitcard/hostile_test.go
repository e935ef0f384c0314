package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// lay writes a hostile library of about n bytes into a folder of its own, and gives the folder.
func (h hostile) lay(t *testing.T, n int) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range h.files(n) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// spend runs the command line in the current folder, and tells what it said and how many bytes of memory it asked for: that is
// the same in every run, where a time is not.
func spend(args ...string) (code int, out, problems string, memory uint64) {
	var o, p bytes.Buffer
	c := Command{In: strings.NewReader(""), Out: &o, Err: &p, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	code = c.Run(context.Background(), args)
	runtime.ReadMemStats(&after)
	return code, o.String(), p.String(), after.TotalAlloc - before.TotalAlloc
}

// Whatever a library holds: the program does not stumble, says what is wrong or which limit was met, and eight times the text
// asks for eight times the memory at most, with some room for what grows in jumps. What the processor does is counted by
// TestHostileWorkGrowsWithTheText.
func TestHostileLibraries(t *testing.T) {
	const small, large, settled = 2 << 10, 16 << 10, 64 << 20
	for _, h := range hostiles() {
		t.Run(h.name, func(t *testing.T) {
			var spent [2]uint64
			said := false
			for i, n := range []int{small, large} {
				t.Chdir(h.lay(t, n))
				code, out, problems, memory := spend("check", "--format", "json", "--jobs", "1", "job.md")
				if strings.Contains(out+problems, "stumbled") || code != done && code != found {
					t.Fatalf("%d bytes: exit %d: %.300s %.300s", n, code, problems, out)
				}
				said = said || h.want == "" || strings.Contains(out, `"`+h.want+`"`)
				wantHarmless(t, out+problems)
				spent[i] = memory
				if n == large {
					continue
				}
				code, _, problems, _ = spend("card", "-o", "-", "--jobs", "1", "job.md")
				if strings.Contains(problems, "stumbled") {
					t.Errorf("card of %d bytes: exit %d: %.300s", n, code, problems)
				}
				wantHarmless(t, problems)
			}
			if !said {
				t.Errorf("nobody says %q", h.want)
			}
			if spent[1] > settled && spent[1] > 16*spent[0] {
				t.Errorf("%d bytes ask for %d bytes of memory, eight times as many for %d", small, spent[0], spent[1])
			}
		})
	}
}

// wantHarmless demands that nothing that steers a terminal stands in what was said.
func wantHarmless(t *testing.T, said string) {
	t.Helper()
	for i, r := range said {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f || 0x80 <= r && r < 0xa0 || 0x202a <= r && r <= 0x202e || 0x2066 <= r && r <= 0x2069 {
			t.Errorf("%q is said, which steers a terminal: …%.60q", r, said[max(0, i-30):])
			return
		}
	}
}
