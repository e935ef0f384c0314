package main

import (
	"bytes"
	"fmt"
	"path/filepath"

	"github.com/rogpeppe/go-internal/diff"
	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/tidy"
)

func tidyTask() task {
	return task{
		name: "tidy", args: "[options] FILE|FOLDER|- …",
		purpose: "write procedures in one layout: tables, keys, step numbers, tags, units; what they mean stays",
		example: `refitcard tidy end-cover.md

end-cover.md  is tidy now
1 of 1 procedure was written anew
`,
		options: func(set *pflag.FlagSet, o *options) {
			set.BoolVar(&o.dryRun, "dry-run", false, "touch nothing: print a unified diff of what would change")
			o.common(set)
		},
		run: runTidy,
	}
}

// tidied is one procedure before and after.
type tidied struct {
	job
	before, now []byte
	why         string // why it is left alone, empty when it is not
}

func runTidy(s *session) (int, error) {
	jobs, err := s.jobs()
	if err != nil {
		return 0, err
	}
	var all []tidied
	taken := map[string]bool{}
	progress := s.progress(len(jobs))
	for _, j := range jobs {
		if err := s.ctx.Err(); err != nil {
			return 0, err
		}
		place := filepath.Join(j.root, filepath.FromSlash(j.path))
		progress.step(j.shown)
		if j.text == nil && taken[place] {
			continue
		}
		taken[place] = true
		all = append(all, j.tidied(place))
	}
	progress.done()
	if s.opt.dryRun {
		err = s.showTidy(all)
	} else {
		err = s.writeTidy(all)
	}
	if err != nil {
		return 0, err
	}
	return s.tellTidy(all), nil
}

// tidied writes one procedure anew in memory. The text is only taken where a compile of it means what the old one meant.
func (j job) tidied(place string) (t tidied) {
	t = tidied{job: j, before: j.text}
	defer func() {
		if r := recover(); r != nil {
			t.now, t.why = t.before, fmt.Sprintf("the program stumbled over it (%v): please report it with the file", r)
		}
	}()
	if j.text == nil {
		raw, err := readProcedure(place)
		if err != nil {
			t.why = rootCause(err).Error()
			return t
		}
		t.before = raw
	}
	t.now = t.before
	if len(t.before) > compiler.MaxFile {
		t.why = fmt.Sprintf("it has more than %d bytes", compiler.MaxFile)
		return t
	}
	verbs := j.lib.Settings().Verbs
	tree := syntax.Parse(source.New(j.shown, j.path, t.before), verbs)
	if fault, broken := tidy.Broken(tree); broken {
		line := max(tree.File.Line(fault.At.Start), 1)
		t.why = fmt.Sprintf("line %d can't be read as meant (%s); refitcard check %s tells what to mend first", line, fault.Name, j.shown)
		return t
	}
	read := func(text []byte) tidy.Reading {
		r := j.lib.CompileText(j.path, text, rules.Options{})
		return tidy.Reading{Proc: r.Proc, Plays: r.Plays, Findings: r.Findings}
	}
	old := read(t.before)
	t.now = tidy.Text(j.path, t.before, verbs, func(text []byte) bool { return tidy.Differ(old, read(text)) == "" })
	return t
}

func (t tidied) changed() bool { return !bytes.Equal(t.before, t.now) }

func (s *session) showTidy(all []tidied) error {
	for _, t := range all {
		if t.changed() {
			if err := s.showDiff(diff.Diff(t.shown, t.before, t.shown, t.now)); err != nil {
				return err
			}
		}
	}
	return nil
}

// writeTidy puts the procedures where they were, once it is sure that nobody else has changed one meanwhile. Standard input goes to
// standard output, changed or not.
func (s *session) writeTidy(all []tidied) error {
	for _, t := range all {
		if t.text != nil || !t.changed() {
			continue
		}
		if now, err := readProcedure(t.shown); err != nil || !bytes.Equal(now, t.before) {
			return fmt.Errorf("%q was changed by someone else meanwhile: nothing was written; tidy it again", t.shown)
		}
	}
	for _, t := range all {
		var err error
		switch {
		case t.text != nil:
			_, err = s.Out.Write(t.now)
		case t.changed():
			err = s.writeNamed(t.shown, t.now)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// tellTidy says what became of each procedure, and gives the exit code.
func (s *session) tellTidy(all []tidied) int {
	is, was := "is tidy now", "written anew"
	if s.opt.dryRun {
		is, was = "would change", "to be written anew"
	}
	changed, alone := 0, 0
	for _, t := range all {
		switch {
		case t.why != "":
			alone++
			s.say("%s  left alone: %s\n", t.shown, t.why)
		case t.changed():
			changed++
			if !s.opt.quiet {
				s.say("%s  %s\n", t.shown, is)
			}
		}
	}
	if !s.opt.quiet {
		fmt.Fprintln(s.Err, tidySum(changed, len(all), was))
	}
	if alone > 0 {
		return unusable
	}
	return done
}

// tidySum is "2 of 3 procedures were written anew".
func tidySum(changed, all int, was string) string {
	procedures := "1 procedure"
	if all != 1 {
		procedures = fmt.Sprintf("%d procedures", all)
	}
	verb := "were"
	if changed == 1 {
		verb = "was"
	}
	if changed == 0 {
		return "nothing to tidy in " + procedures
	}
	return fmt.Sprintf("%d of %s %s %s", changed, procedures, verb, was)
}
