package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"syscall"
	"time"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/editor/wire"
	"refitcard/compiler/rules"
)

func editorTask() task {
	return task{
		name: "editor", args: "[options]",
		purpose: "serve an editor while you type: findings, completion, names, renaming (a language server)",
		example: `refitcard editor

Your editor starts it and speaks with it on standard input and output. In Neovim, in init.lua:

local client
vim.api.nvim_create_autocmd("FileType", { pattern = "markdown", callback = function()
  local server = { name = "refitcard", cmd = { "refitcard", "editor" } }
  if vim.lsp.start then vim.lsp.start(server) else -- before Neovim 0.8:
    client = client or vim.lsp.start_client(server)
    vim.lsp.buf_attach_client(0, client)
  end
end })

Any other editor with a language client: command "refitcard editor", language Markdown, standard streams.
Files that do not begin with --- are nobody's procedure: nothing is said of them.
`,
		options: func(set *pflag.FlagSet, o *options) {
			set.Bool("stdio", true, "speak on standard input and output: nothing else is known, and some editors say so")
		},
		run: runEditor,
	}
}

// patience is how long the editor waits for one compile before it goes on with other things.
const patience = 2 * time.Second

func runEditor(s *session) (int, error) {
	if len(s.args) > 0 {
		return 0, usageError{fmt.Sprintf("%q: the editor names the procedures, not the command line", s.args[0]), "refitcard editor; refitcard check " + s.args[0] + " checks a file"}
	}
	if s.Width(s.In) > 0 {
		fmt.Fprintln(s.Err, "refitcard: waiting for an editor on standard input; refitcard editor --help tells how to set one up, Ctrl-C ends it")
	}
	var pause func()
	if _, set := s.Env("GOGC"); !set {
		defer debug.SetGCPercent(debug.SetGCPercent(400)) // a keystroke makes much and throws it away
		pause = collecting()
	}
	code, err := wire.Serve(s.ctx, s.In, onlyWriter{s.Out}, wire.Host{
		Version: version, Root: func(abs string) string { return newLibraries().rootOf(filepath.Dir(abs)) }, Open: rooted, Refit: refitFor,
		Patience: func() <-chan time.Time { return time.After(patience) },
		Pause:    pause,
	})
	if errors.Is(err, syscall.EPIPE) {
		return done, nil // the editor is gone
	}
	return code, err
}

// heapGrowth is how many bytes of garbage lie about before they are collected in a pause: some ten keystrokes in a very long
// procedure, some hundreds in a usual one.
const heapGrowth = 12 << 20

// collecting gives what collects garbage while nobody waits, so that it is not collected while somebody does.
func collecting() func() {
	last := inUse()
	return func() {
		if inUse() < last+heapGrowth {
			return
		}
		runtime.GC()
		last = inUse()
	}
}

// onlyWriter hides what else a stream can do.
type onlyWriter struct{ io.Writer }

// refitFor writes the refitting stage that a text lacks; not where the ledger can't be trusted, or where nothing is missing.
func refitFor(lib *compiler.Library, path string, text []byte) (now []byte, what string, ok bool) {
	j := job{lib: lib, path: path, shown: path, text: text}
	before := lib.CompileText(path, text, rules.Options{})
	if slices.ContainsFunc(before.Findings, func(f diag.Finding) bool { return !closable(f) }) {
		return nil, "", false
	}
	r := j.refit(text, before)
	return r.text, r.summary(), r.stage.Text != ""
}
