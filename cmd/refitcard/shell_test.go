package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"refitcard/render/pdf/pdftest"
)

// What each shell runs: it reads the script that the program prints, and completes the words behind "refitcard".
var completing = map[string]string{
	"bash": `source ./script
complete_it() { COMP_WORDS=(refitcard "$@"); COMP_CWORD=$#; COMPREPLY=(); _refitcard; printf '%s\n' "${COMPREPLY[@]}"; }
complete_it "$@"`,
	"zsh": `compdef() { : }
compadd() { print -rl -- $found }
_files() { print files }
source ./script
words=(refitcard "$@"); CURRENT=$#words
_refitcard`,
	"fish": `source ./script
complete -C "refitcard $argv"`,
}

// Each shell completes verbs, options, the values of options, checks and files by asking the program itself.
func TestShellsComplete(t *testing.T) {
	for shell, ask := range completing {
		t.Run(shell, func(t *testing.T) {
			program := pdftest.Need(t, shell, "that completion works in "+shell)
			dir := t.TempDir()
			script, _ := run(t, done, "completion", shell)
			for name, text := range map[string]string{"script": script, "ask": ask, "sump.md": "---\n"} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			for typed, want := range map[string]string{
				"compa": "compare", "card --pap": "--paper", "card --paper half-letter-l": "half-letter-landscape",
				"explain refit/left-of": "refit/left-off", "check su": "sump.md", "completion m": "man", "compare --format m": "md",
			} {
				args := append([]string{"ask"}, strings.Fields(typed)...)
				switch shell {
				case "bash":
					args = append([]string{"--norc", "--noprofile"}, args...)
				case "zsh":
					args = append([]string{"-f"}, args...)
				case "fish":
					args = append([]string{"--no-config"}, args...)
				}
				c := exec.Command(program, args...)
				c.Dir, c.Env = dir, append(os.Environ(), "HOME="+dir)
				out, err := c.Output()
				if err != nil {
					t.Fatalf("%s %q: %v", shell, args, err)
				}
				if got := strings.TrimSpace(string(out)); got != want {
					t.Errorf("%q completes to %q, want %q", typed, got, want)
				}
			}
		})
	}
}

// The manual page has nothing that groff or mandoc warns of, and tells of every verb and option.
func TestTheManualPageIsSound(t *testing.T) {
	page, _ := run(t, done, "completion", "man")
	file := pdftest.File(t, "refitcard.1", []byte(page))
	groff := pdftest.Need(t, "groff", "that the manual page is sound")
	c := exec.Command(groff, "-ww", "-man", "-Tutf8", file)
	problems := &strings.Builder{}
	c.Stderr = problems
	if _, err := c.Output(); err != nil || problems.Len() > 0 {
		t.Errorf("groff: %v\n%s", err, problems)
	}
	mandoc := pdftest.Need(t, "mandoc", "that the manual page passes its lint")
	if out, err := exec.Command(mandoc, "-T", "lint", "-W", "warning", file).CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("mandoc: %v\n%s", err, out)
	}
	for _, task := range tasks() {
		_, told, found := strings.Cut(page, ".SS refitcard "+roff(task.name)+" ")
		told, _, _ = strings.Cut(told, ".SS ")
		if !found {
			t.Errorf("%s is missing", task.name)
		}
		set := pflag.NewFlagSet(task.name, pflag.ContinueOnError)
		task.options(set, &options{jobs: 1})
		set.VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(told, roff("--"+f.Name)+`\fR`) {
				t.Errorf("%s: the option %q is missing", task.name, f.Name)
			}
		})
	}
}
