package main

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"refitcard/render/pdf/pdftest"
)

// setup gives the lines for Neovim's init.lua out of the help.
func setup(t *testing.T) string {
	t.Helper()
	_, rest, ok := strings.Cut(editorTask().example, "in init.lua:\n\n")
	lua, _, ok2 := strings.Cut(rest, "\n\n")
	if !ok || !ok2 || !strings.Contains(lua, "refitcard") {
		t.Fatalf("the help has no lines for init.lua:\n%s", editorTask().example)
	}
	return lua
}

// neovimSaw is what a session of Neovim wrote down.
type neovimSaw struct {
	Error                    string
	First, Typed, Slip, Last []diagnosed
	Hover, Completed         string
	Renamed, Tidied          string
	Definition               []int
	Offers                   []string
}

type diagnosed struct {
	Line, From, To, Severity int
	Code, Message, Source    string
}

// The whole way with an editor that people use, set up as the help says: a person opens a faulty procedure and mends it.
func TestNeovimMendsAProcedure(t *testing.T) {
	nvim := pdftest.Need(t, "nvim", "that an editor can drive the language server")
	dir := t.TempDir()
	for _, name := range []string{"session.lua", "job.md"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "editor", name))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, name), string(text))
	}
	write(t, filepath.Join(dir, "setup.lua"), setup(t))
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, filepath.Join(dir, "refitcard")); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute) // an editor that hangs must not hang the tests
	defer cancel()
	c := exec.CommandContext(ctx, nvim, "--headless", "-u", "NONE", "-i", "NONE", "-n", "-c", "luafile session.lua")
	c.Dir = dir
	c.Env = append(os.Environ(), "PATH="+dir+string(os.PathListSeparator)+os.Getenv("PATH"), "XDG_STATE_HOME="+dir, "XDG_CACHE_HOME="+dir, "LC_ALL=C.UTF-8")
	out, err := c.CombinedOutput()
	raw, errRead := os.ReadFile(filepath.Join(dir, "seen.json"))
	if err != nil || errRead != nil {
		t.Fatalf("%v, %v: %s", err, errRead, out)
	}
	var got neovimSaw
	if err := json.Unmarshal(raw, &got); err != nil {
		t.Fatalf("%v: %s", err, raw)
	}
	if got.Error != "" {
		log, _ := filepath.Glob(filepath.Join(dir, "nvim", "*.log"))
		t.Fatalf("%s\n%s\n%v", got.Error, out, log)
	}
	got.holds(t)
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func (s neovimSaw) holds(t *testing.T) {
	t.Helper()
	// Places in Neovim are bytes from 0: "2. Look <!-- 🔧 -->:<tab>{" is 3 + 5 + 13 + 1 + 1 + 1 of them.
	if len(s.First) != 1 || s.First[0].Line != 35 || s.First[0].From != 24 || s.First[0].To != 46 || s.First[0].Severity != 1 ||
		s.First[0].Code != "refit/left-off" || s.First[0].Source != "refitcard" || !strings.HasPrefix(s.First[0].Message, "2 of 12 cover bolts never go back") {
		t.Errorf("the first finding is %+v", s.First)
	}
	for _, want := range []string{"**12 cover bolts**", "M8×30 8.8 socket", "22 N·m", "% of the proof load of 8.8", "before step 4: 12 of 12 off"} {
		if !strings.Contains(s.Hover, want) {
			t.Errorf("the hover lacks %q:\n%s", want, s.Hover)
		}
	}
	if !slices.Equal(s.Definition, []int{13, 2}) {
		t.Errorf("the bolt is declared at %v", s.Definition)
	}
	if len(s.Offers) == 0 || s.Offers[0] != "6 mm hex key" || !strings.Contains(s.Completed, "{tool 6 mm hex key}") {
		t.Errorf("offered %q, completed %q", s.Offers, s.Completed)
	}
	if len(s.Typed) > 0 || len(s.Last) > 0 {
		t.Errorf("left after the mending: %+v, %+v", s.Typed, s.Last)
	}
	if len(s.Slip) != 1 || s.Slip[0].Code != "part/unknown" {
		t.Errorf("the slip gives %+v", s.Slip)
	}
	for _, want := range []string{"| end screw | 12 |", "{Remove 12 end screws}", "{install 12 end screws} finger-tight", "{check an end screw turns", "{Torque 12 end screws to"} {
		if !strings.Contains(s.Renamed, want) {
			t.Errorf("renamed, the text lacks %q:\n%s", want, s.Renamed)
		}
	}
	if strings.Contains(s.Renamed, "cover bolt") {
		t.Errorf("the old name is left:\n%s", s.Renamed)
	}
	if !strings.Contains(s.Tidied, "| end screw    |  12 | M8×30 8.8 socket |") {
		t.Errorf("tidied:\n%s", s.Tidied)
	}
}
