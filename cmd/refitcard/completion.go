package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

func completionTask() task {
	return task{
		name: "completion", args: "bash|zsh|fish|man",
		purpose: "print the script that completes verbs, options and files in your shell; or the manual page",
		example: `refitcard completion bash > ~/.local/share/bash-completion/completions/refitcard
refitcard completion man > ~/.local/share/man/man1/refitcard.1
`,
		options: func(set *pflag.FlagSet, o *options) {},
		run:     runCompletion,
	}
}

// completeVerb is what the scripts call with the words typed so far; it is no verb for people.
const completeVerb = "__complete"

// shells are the scripts: each asks the program itself, so that they never fall behind it.
var shells = map[string]string{
	"bash": `_refitcard() {
  local IFS=$'\n'
  COMPREPLY=($(refitcard __complete "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null))
  [[ ${#COMPREPLY[@]} -eq 0 ]] && compopt -o default
}
complete -o filenames -F _refitcard refitcard
`,
	"zsh": `#compdef refitcard
_refitcard() {
  local -a found
  found=("${(@f)$(refitcard __complete "${(@)words[2,CURRENT]}" 2>/dev/null)}")
  if [[ -n "${found[1]}" ]]; then compadd -a found; else _files; fi
}
compdef _refitcard refitcard
`,
	"fish": `function __refitcard
    set -l words (commandline -opc) (commandline -ct)
    refitcard __complete $words[2..-1] 2>/dev/null
end
complete -c refitcard -a '(__refitcard)'
`,
}

func runCompletion(s *session) (int, error) {
	names := []string{"bash", "fish", "man", "zsh"}
	if len(s.args) == 1 && s.args[0] == "man" {
		_, err := io.WriteString(s.Out, manual())
		return done, err
	}
	if len(s.args) != 1 || shells[s.args[0]] == "" {
		do := "refitcard completion bash, zsh, fish or man"
		if len(s.args) == 1 {
			if near := verb.Near(s.args[0], names); near != "" {
				do = "refitcard completion " + near
			}
		}
		return 0, usageError{"name one shell", do}
	}
	_, err := io.WriteString(s.Out, shells[s.args[0]])
	return done, err
}

// complete prints what may stand in the place of the last word, one a line; nothing where files belong.
func (c Command) complete(words []string) (int, error) {
	last := ""
	if n := len(words); n > 0 {
		last, words = words[n-1], words[:n-1]
	}
	for _, w := range candidates(words) {
		if strings.HasPrefix(w, last) {
			if _, err := fmt.Fprintln(c.Out, w); err != nil {
				return 0, err
			}
		}
	}
	return done, nil
}

// candidates lists what may come behind the words before the cursor.
func candidates(before []string) []string {
	if len(before) == 0 {
		var names []string
		for _, t := range tasks() {
			names = append(names, t.name)
		}
		return append(names, "--help", "--version")
	}
	i := slices.IndexFunc(tasks(), func(t task) bool { return t.name == before[0] })
	if i < 0 {
		return nil
	}
	t := tasks()[i]
	opt := &options{}
	set := pflag.NewFlagSet(t.name, pflag.ContinueOnError)
	t.options(set, opt)
	if values := valuesFor(set, opt, before[len(before)-1]); values != nil {
		return values
	}
	var names []string
	switch t.name {
	case "explain":
		for _, f := range compiler.Families() {
			for _, r := range f.Rules {
				names = append(names, r.Name)
			}
		}
		for _, v := range verb.Standard().All() {
			names = append(names, v.Name)
		}
		names = append(names, topics...)
	case "completion":
		names = []string{"bash", "fish", "man", "zsh"}
	}
	set.VisitAll(func(f *pflag.Flag) { names = append(names, "--"+f.Name) })
	return append(names, procedures()...)
}

// valuesFor lists the words that an option takes, nil where the word before is no such option.
func valuesFor(set *pflag.FlagSet, opt *options, word string) []string {
	name, ok := strings.CutPrefix(word, "--")
	if !ok || set.Lookup(name) == nil {
		return nil
	}
	switch name {
	case "format":
		return opt.formats
	case "from":
		return kinds()
	case "paper":
		return papers
	case "units":
		return []string{"metric", "us"}
	case "color":
		return []string{"auto", "always", "never"}
	case "fail-on":
		return []string{"error", "warning", "advice"}
	case "ink":
		return []string{"black", "colour"}
	case "punch":
		return []string{"left", "top"}
	case "sides":
		return []string{"1", "2"}
	}
	return nil
}

// procedures lists the Markdown files and folders of the folder that the shell stands in; a path further down is the shell's own work.
func procedures() []string {
	entries, err := os.ReadDir(".")
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		switch {
		case strings.HasPrefix(e.Name(), "."), strings.ContainsFunc(e.Name(), source.Steers):
		case e.IsDir():
			names = append(names, e.Name()+"/")
		case strings.HasSuffix(e.Name(), ".md"):
			names = append(names, e.Name())
		}
	}
	return names
}
