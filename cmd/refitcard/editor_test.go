package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
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

// sent is messages of an editor as they stand on the wire.
func sent(messages ...string) string {
	var b strings.Builder
	for _, m := range messages {
		fmt.Fprintf(&b, "Content-Length: %d\r\n\r\n%s", len(m), m)
	}
	return b.String()
}

// The stage that is missing is offered where a finding says so, and its edit gives what the verb refit writes.
func TestTheMissingStageIsOffered(t *testing.T) {
	whole, err := os.ReadFile(filepath.Join("..", "..", "testdata", "editor", "job.md"))
	if err != nil {
		t.Fatal(err)
	}
	strip, _, _ := strings.Cut(string(whole), "\n## Refit")
	dir := t.TempDir()
	file := filepath.Join(dir, "strip.md")
	write(t, file, strip)
	quoted, _ := json.Marshal(strip)
	line := strings.Count(strip[:strings.Index(strip, "{Remove the end")], "\n")
	uri := "file://" + filepath.ToSlash(file)
	stream := sent(`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{"textDocument":{"codeAction":{"codeActionLiteralSupport":{}}}}}}`,
		fmt.Sprintf(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":%q,"version":1,"text":%s}}}`, uri, quoted),
		fmt.Sprintf(`{"jsonrpc":"2.0","id":2,"method":"textDocument/codeAction","params":{"textDocument":{"uri":%q},"range":{"start":{"line":%d,"character":4},"end":{"line":%d,"character":9}},"context":{"only":["refactor"]}}}`, uri, line, line),
		`{"jsonrpc":"2.0","id":3,"method":"shutdown"}`, `{"jsonrpc":"2.0","method":"exit"}`)
	var out, problems bytes.Buffer
	c := Command{In: strings.NewReader(stream), Out: &out, Err: &problems, Env: func(string) (string, bool) { return "", false }, Width: func(any) int { return 0 }}
	if code := c.Run(context.Background(), []string{"editor"}); code != done || problems.Len() > 0 {
		t.Fatalf("exit %d: %s", code, problems.String())
	}
	_, answer, ok := strings.Cut(out.String(), `"id":2,"result":`)
	if !ok {
		t.Fatal(out.String())
	}
	var actions []struct {
		Title string
		Edit  struct {
			Changes map[string][]struct{ NewText string }
		}
	}
	if err := json.NewDecoder(strings.NewReader(answer)).Decode(&actions); err != nil || len(actions) != 1 {
		t.Fatalf("%v: %s", err, answer)
	}
	if !strings.HasPrefix(actions[0].Title, "write the refitting stage that is missing: ") || len(actions[0].Edit.Changes[uri]) != 1 {
		t.Errorf("%+v", actions[0])
	}
	stage, _ := run(t, done, "refit", file, "--format", "stage", "--quiet")
	if got := actions[0].Edit.Changes[uri][0].NewText; strings.TrimSpace(got) != strings.TrimSpace(stage) || !strings.Contains(stage, "{Torque 12 cover bolts") {
		t.Errorf("the editor would write:\n%s\nthe verb writes:\n%s", got, stage)
	}
}
