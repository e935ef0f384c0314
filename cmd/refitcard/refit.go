package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/refit"
	"refitcard/compiler/report"
	"refitcard/compiler/rules"
)

func refitTask() task {
	return task{
		name: "refit", args: "[options] FILE|-",
		purpose: "write the refitting stage that the ledger says is missing, to be read and completed",
		example: `refitcard refit end-cover-strip.md -o end-cover.md

end-cover.md: 6 steps written, 2 questions to answer
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE` or folder to write to, never the input; - is standard output, the default")
			o.formatOf(set, "procedure", "stage")
			o.common(set)
		},
		run: runRefit,
	}
}

// refitted is a procedure with the stage that it lacked.
type refitted struct {
	stage  refit.Stage
	text   []byte
	result compiler.Result // of the text with the stage
}

func runRefit(s *session) (int, error) {
	if len(s.args) != 1 {
		return 0, usageError{"give one procedure", "refitcard refit FILE -o NEW-FILE"}
	}
	jobs, err := s.jobs()
	if err != nil {
		return 0, err
	}
	if len(jobs) != 1 {
		return 0, usageError{fmt.Sprintf("%d procedures stand below %q", len(jobs), s.args[0]), "refitcard refit FILE: one at a time"}
	}
	j := jobs[0]
	text := j.text
	if text == nil {
		if text, err = readProcedure(filepath.Join(j.root, filepath.FromSlash(j.path))); err != nil {
			return 0, fmt.Errorf("%q: %w", j.shown, rootCause(err))
		}
	}
	out, err := s.refitTarget(j)
	if err != nil {
		return 0, err
	}
	before := j.lib.CompileText(j.path, text, rules.Options{})
	if bad := slices.DeleteFunc(slices.Clone(before.Findings), closable); len(bad) > 0 {
		s.say("%s: the ledger can't be trusted before this is mended; nothing was written\n\n", j.shown)
		return found, s.tellFindings(bad)
	}
	r := j.refit(text, before)
	if err := s.writeRefit(out, r); err != nil {
		return 0, err
	}
	left := slices.DeleteFunc(slices.Clone(r.result.Findings), func(f diag.Finding) bool { return !ofLedger(f) })
	if !s.opt.quiet {
		name := out
		if out == "-" {
			name = j.shown
		}
		s.say("%s: %s\n", name, r.summary())
	}
	if len(left) > 0 {
		return found, s.tellFindings(left)
	}
	return done, nil
}

// refitTarget gives where the text goes: never over the input.
func (s *session) refitTarget(j job) (string, error) {
	out := s.opt.out
	if out == "" || out == "-" {
		return "-", nil
	}
	if endsInSeparator(out) || isFolder(out) {
		out = filepath.Join(out, filepath.Base(j.shown))
	}
	a, errA := os.Stat(out)
	b, errB := os.Stat(filepath.Join(j.root, filepath.FromSlash(j.path)))
	if j.text == nil && errA == nil && errB == nil && os.SameFile(a, b) {
		return "", usageError{fmt.Sprintf("%q is the procedure itself: it is never written over", s.opt.out), "name another file behind -o"}
	}
	return out, nil
}

func (s *session) writeRefit(out string, r refitted) error {
	text := r.text
	if s.opt.format == "stage" {
		text = []byte(r.stage.Text)
	}
	if out == "-" {
		_, err := s.Out.Write(text)
		return err
	}
	return s.writeNamed(out, text)
}

func (s *session) tellFindings(list []diag.Finding) error {
	r := s.results(list, 1)
	r.Width, r.Colour = s.Width(s.Err), s.colourOn(s.Err)
	return report.Text(s.Err, r)
}

// closable tells whether a finding is one that the stage does away with, or that says nothing against the ledger.
func closable(f diag.Finding) bool {
	if !ofLedger(f) {
		return true
	}
	switch f.Rule {
	case "refit/left-off", "refit/left-loose", "refit/not-torqued", "refit/left-open", "refit/not-filled", "refit/old-part-back",
		"energy/left-isolated", "order/never-awaited", "part/use-differs",
		"file/missing-key", "file/bad-value", "file/revision-not-raised", "file/approved-by-author":
		return true
	}
	return false
}

// ofLedger tells whether an error stands that bears on the ledger: a missing picture does not.
func ofLedger(f diag.Finding) bool {
	family, _, _ := strings.Cut(f.Rule, "/")
	return f.Severity >= diag.Error && f.Waived == "" && f.Rule != "tag/question" &&
		slices.Contains([]string{"tag", "part", "refit", "order", "energy", "include", "variant", "file"}, family)
}

// refit writes the stage: once, and again with what a compile of the first writing finds left open.
func (j job) refit(text []byte, before compiler.Result) refitted {
	if cut := withoutReverse(text, before); cut != nil {
		text = cut
		before = j.lib.CompileText(j.path, text, rules.Options{})
	}
	write := func(open refit.Loose) (r refitted) {
		r.stage = refit.Write(before.Proc, before.Plays, open)
		r.text = refit.Add(text, r.stage)
		r.result = j.lib.CompileText(j.path, r.text, rules.Options{})
		return r
	}
	r := write(refit.Loose{})
	if open := refit.Left(r.result.Proc, r.result.Findings); r.stage.Text != "" && (open.Untested || len(open.Idle) > 0) {
		r = write(open)
	}
	return r
}

// withoutReverse takes out the step that says that refitting is the reverse of removal, and its stage where that says nothing
// else; nil where no step says so.
func withoutReverse(text []byte, r compiler.Result) []byte {
	for _, f := range r.Findings {
		if f.Rule != "wording/reverse-of-removal" || f.At.File != r.Proc.File {
			continue
		}
		for _, stage := range r.Proc.Stages {
			for _, step := range stage.Steps {
				if step.At.Holds(f.At) {
					return cutStep(text, stage, step)
				}
			}
		}
	}
	return nil
}

func cutStep(text []byte, stage *procedure.Stage, step *procedure.Step) []byte {
	f, at := step.At.File, step.At
	if len(stage.Steps) == 1 && len(stage.Messages)+len(stage.Tail) == 0 {
		at = stage.At.To(step.At)
	}
	start := f.LineSpan(f.Line(at.Start)).Start + f.Mark
	end := len(text)
	if n := f.Line(at.End); n < f.Lines() {
		end = f.LineSpan(n+1).Start + f.Mark
	}
	return append(slices.Clone(text[:start]), text[end:]...)
}

// summary is "6 steps written, 2 questions to answer".
func (r refitted) summary() string {
	if r.stage.Text == "" {
		return "nothing is missing: the ledger closes"
	}
	n := func(k int, one string) string {
		if k == 1 {
			return "1 " + one
		}
		return fmt.Sprintf("%d %ss", k, one)
	}
	said := []string{n(r.stage.Steps, "step") + " written"}
	if r.stage.Questions > 0 {
		said = append(said, n(r.stage.Questions, "question")+" to answer")
	}
	return strings.Join(said, ", ")
}
