package main

import (
	"bufio"
	"context"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"refitcard/compiler/diag"
)

// long is how long something that is bound to happen may take on a busy machine.
const long = 60 * time.Second

// watched is a watch that runs.
type watched struct {
	address string
	stop    context.CancelFunc
	code    chan int
}

// startWatch runs the verb until the test ends or stops it.
func startWatch(t testing.TB, args ...string) *watched {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	read, write := io.Pipe()
	w := &watched{stop: stop, code: make(chan int, 1)}
	go func() {
		c := Command{In: strings.NewReader(""), Out: io.Discard, Err: write, Env: os.LookupEnv, Width: func(any) int { return 0 }}
		w.code <- c.Run(ctx, append([]string{"watch"}, args...))
		write.Close()
	}()
	said, err := bufio.NewReader(read).ReadString('\n')
	address, ok := strings.CutPrefix(said, "open ")
	if err != nil || !ok {
		t.Fatalf("it says %q (%v)", said, err)
	}
	go func() { _, _ = io.Copy(io.Discard, read) }()
	w.address, _, _ = strings.Cut(address, " ")
	t.Cleanup(func() {
		stop()
		select {
		case w.code <- <-w.code:
		case <-time.After(long):
			t.Error("it does not end")
		}
	})
	return w
}

// libraryCopy gives a copy of the sample library.
func libraryCopy(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(samples)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// What is shown follows the options of card, every variant, and what stands beside the procedure; stopping it is no error.
func TestWatchShowsWhatCardMakes(t *testing.T) {
	dir := libraryCopy(t)
	m := newMaker(&session{Command: Command{Env: os.LookupEnv}, opt: &options{paper: "a5-landscape", sides: 1}, args: []string{dir}})
	file := filepath.Join(dir, "flap-valve.md")
	w := m.Make(file)
	if len(w.Cards) != 2 || w.Cards[0].Variant != "DN300" || w.Cards[0].Sheet.Width != 210 || w.Cards[0].Sheet.Height != 148 {
		t.Fatalf("%d cards: %s", len(w.Cards), w.Wrong)
	}
	for _, name := range []string{file, "refitcard.yaml", "crib.csv", "stock.csv"} {
		if !filepath.IsAbs(name) {
			name = filepath.Join(dir, name)
		}
		if !slices.Contains(w.Read, name) {
			t.Errorf("%s is not watched", name)
		}
	}
	for name, want := range map[string]string{"coupling-alignment.md": "figures/coupling-gauges.svg", "trailer-hub-brake.md": "figures/hub-section.png", "level-sensor.md": "shared/wet-well-entry.md"} {
		m.Anew()
		if w := m.Make(filepath.Join(dir, name)); !slices.Contains(w.Read, filepath.Join(dir, want)) {
			t.Errorf("%s: %s is not watched", name, want)
		}
	}
	names, read, err := m.Names()
	if err != nil || len(names) < 15 || !slices.Contains(names, filepath.ToSlash(file)) || !slices.Contains(read, dir) {
		t.Errorf("%d procedures, %v, %v", len(names), read, err)
	}
	for _, n := range names {
		if w := m.Make(n); len(w.Cards) == 0 && !slices.ContainsFunc(w.Findings, func(f diag.Finding) bool { return f.Severity == diag.Error }) {
			t.Errorf("%s has no card: %s", n, w.Wrong)
		}
	}
	m.s.opt.variant = "DN900"
	if w := m.Make(file); w.Cards != nil || !strings.Contains(w.Wrong, `no variant "DN900"`) {
		t.Errorf("a variant that is none: %q", w.Wrong)
	}
	if w := m.Make(filepath.Join(dir, "none.md")); !w.Gone || w.Cards != nil {
		t.Errorf("a file that is none: %+v", w)
	}

	running := startWatch(t, file)
	running.stop()
	if code := <-running.code; code != done {
		t.Errorf("stopped, it ends with %d", code)
	} else {
		running.code <- code
	}
}
