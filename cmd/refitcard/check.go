package main

import (
	"fmt"
	"io"
	"io/fs"
	"slices"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/rules"
)

func checkTask() task {
	return task{
		name: "check", args: "[options] FILE|FOLDER|- …",
		purpose: "say what is wrong with procedures",
		example: `refitcard check end-cover.md

end-cover.md:41:5  ERROR  2 of 12 cover bolts never go back
    41 | 2. {Install 10 cover bolts} finger-tight.
       |     ^^^^^^^^^^^^^^^^^^^^^^
      came off   line 33, step 4: Remove 12 cover bolts
      do         put all 12 back, or list the other 2 under "leaves"
      more       refitcard explain refit/left-off
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.formatOf(set, "text", formatNames()[1:]...)
			set.StringVar(&o.failOn, "fail-on", "warning", "exit 1 from this severity up: error, warning or advice")
			set.StringSliceVar(&o.only, "only", nil, "these checks only: `NAME,…`")
			set.StringSliceVar(&o.skip, "skip", nil, "without these checks: `NAME,…` (not errors, nor those that are marked !)")
			o.againstOf(set)
			o.output(set, "a `FILE` for the findings, or - (the default)")
			o.common(set)
		},
		run: runCheck,
	}
}

func formatNames() []string {
	var names []string
	for _, f := range report.Formats() {
		names = append(names, f.Name)
	}
	return names
}

func runCheck(s *session) (int, error) {
	opt := rules.Options{Only: s.opt.only, Skip: s.opt.skip}
	if err := rules.Selectable(compiler.Families(), opt); err != nil {
		return 0, usageError{err.Error(), "refitcard explain lists the checks"}
	}
	jobs, err := s.jobs()
	if err == nil {
		err = s.holdAgainst(jobs)
	}
	if err != nil {
		return 0, err
	}
	var all []diag.Finding
	var looked []string
	var unread []error
	progress := s.progress(len(jobs))
	err = s.compileAll(jobs, opt, func(c compiled) error {
		progress.step(c.shown)
		if c.err != nil {
			unread = append(unread, c.err)
			c.Findings = []diag.Finding{unreadable(c)}
		}
		looked = append(looked, c.named())
		all = append(all, c.Findings...)
		return nil
	})
	progress.done()
	if err != nil {
		return 0, err
	}
	all = diag.Sort(all)
	if err := s.showFindings(all, looked); err != nil {
		return 0, err
	}
	if len(unread) > 0 {
		return unusable, nil
	}
	if slices.ContainsFunc(all, func(f diag.Finding) bool { return f.Waived == "" && f.Severity >= s.opt.threshold }) {
		return found, nil
	}
	return done, nil
}

// named gives the name of a procedure as its findings give it.
func (c compiled) named() string {
	if c.err != nil {
		return c.Findings[0].At.File.Name
	}
	return c.Proc.File.Name
}

// unreadable turns a file that can't be read into a finding, so that every output format can tell of it.
func unreadable(c compiled) diag.Finding {
	reason := rootCause(c.err)
	if p, ok := c.err.(*fs.PathError); ok {
		reason = p.Err
	}
	return compiler.Unreadable(c.lib, c.path, reason.Error())
}

// showFindings writes findings to where check's output goes. A clean text report goes to standard error.
func (s *session) showFindings(all []diag.Finding, looked []string) error {
	r := s.results(all, len(looked))
	r.Looked, r.Threshold = looked, s.opt.threshold
	format := report.Formats()[slices.Index(formatNames(), s.opt.format)]
	if s.opt.out != "" && s.opt.out != "-" {
		r.Colour, r.Width = false, 0
		data, err := rendered(format, r)
		if err != nil {
			return err
		}
		return s.writeNamed(s.opt.out, data)
	}
	if s.opt.format == "text" && !slices.ContainsFunc(all, func(f diag.Finding) bool { return f.Waived == "" }) {
		if s.opt.quiet {
			return nil
		}
		_, err := fmt.Fprintln(s.Err, report.Summary(r))
		return err
	}
	data, err := rendered(format, r)
	if err != nil {
		return err
	}
	_, err = s.Out.Write(data)
	return err
}

func (s *session) results(all []diag.Finding, files int) report.Results {
	return report.Results{
		Version: version, Files: files, Findings: all, Quiet: s.opt.quiet, Texts: ruleText,
		Width: s.Width(s.Out), Colour: s.colourOn(s.Out),
	}
}

// colourOn decides on colour for a stream: asked for, or a terminal that nothing speaks against.
func (s *session) colourOn(stream io.Writer) bool {
	if s.opt.colour != "auto" {
		return s.opt.colour == "always"
	}
	if no, ok := s.Env("NO_COLOR"); ok && no != "" {
		return false
	}
	if kind, _ := s.Env("TERM"); kind == "dumb" {
		return false
	}
	return s.Width(stream) > 0
}
