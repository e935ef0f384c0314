package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/draft"
	"refitcard/compiler/rules"
)

func draftTask() task {
	return task{
		name: "draft", args: "NOTES",
		purpose: "turn plain notes, or a talk that was written down, into a tagged procedure with its doubts as questions",
		example: `refitcard draft rake-chain.txt

rake-chain-draft.md: 12 steps, 4 questions: answer each where it stands, then: refitcard check rake-chain-draft.md
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE` or folder to write, or - for standard output (else NOTES-draft.md beside the notes)")
			set.StringVar(&o.name, "name", "notes.txt", "`NAME` of the notes when - (standard input) is read")
		},
		run: runDraft,
	}
}

// nothing is a library with no file in it.
type nothing struct{}

// Open finds no file.
func (nothing) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

func runDraft(s *session) (int, error) {
	if len(s.args) != 1 {
		return 0, usageError{"give the one file that the notes stand in", "refitcard draft NOTES"}
	}
	notes, name, err := s.notes(s.args[0])
	if err != nil {
		return 0, err
	}
	title, number := titleAndNumber(name)
	// The draft is judged by itself: what a library around it says of others is none of its business yet.
	lib := compiler.Open(nothing{}, func(p string) string { return p })
	d := draft.Make(notes, draft.Options{
		Title: title, Number: number,
		Check: func(text []byte) []diag.Finding { return lib.CompileText("draft.md", text, rules.Options{}).Findings },
	})
	out := s.opt.out
	if out == "" && s.args[0] == "-" {
		out = "-"
	}
	if out == "-" {
		_, err := s.Out.Write(d.Text)
		return done, err
	}
	made := strings.TrimSuffix(name, filepath.Ext(name)) + "-draft.md"
	switch {
	case out == "":
		out = made
	case endsInSeparator(out) || isFolder(out):
		out = filepath.Join(out, filepath.Base(made))
	}
	if err := s.writeNew(out, d.Text); err != nil {
		return 0, err
	}
	result := lib.CompileText("draft.md", d.Text, rules.Options{})
	steps, questions := 0, 0
	for _, stage := range result.Proc.Stages {
		steps += len(stage.Steps)
	}
	for _, f := range result.Findings {
		if f.Rule == "tag/question" {
			questions++
		}
	}
	s.say("%s: %s, %s: answer each where it stands, then: refitcard check %s\n", out, counted(steps, "step"), counted(questions, "question"), typed(out))
	return done, nil
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// notes reads the notes; name is what its draft is named after.
func (s *session) notes(arg string) (text []byte, name string, err error) {
	if arg == "-" {
		text, err = io.ReadAll(io.LimitReader(s.In, compiler.MaxFile+1))
		name = s.opt.name
	} else {
		if isFolder(arg) {
			return nil, "", usageError{fmt.Sprintf("%q is a folder", arg), "name the one file that the notes stand in"}
		}
		text, err = readNotes(arg)
		name = arg
	}
	if err != nil {
		return nil, "", err
	}
	if len(text) > maxNotes {
		return nil, "", usageError{fmt.Sprintf("%q is too long for notes of one job: more than %d KiB", arg, maxNotes>>10), "cut it at its jobs"}
	}
	if strings.ContainsRune(string(text), 0) {
		return nil, "", usageError{fmt.Sprintf("%q is no plain text", arg), "save the notes as text or Markdown"}
	}
	return text, name, nil
}

// maxNotes is the most that is taken for the notes of one job, in bytes: an hour of talk has about 60 KiB.
const maxNotes = 128 << 10

func readNotes(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, missing(name, err)
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxNotes+1))
}
