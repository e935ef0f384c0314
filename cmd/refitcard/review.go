package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/render/document"
	"refitcard/render/html"
	"refitcard/render/sheet"
)

func reviewTask() task {
	return task{
		name: "review", args: "[options] FILE|FOLDER|- …",
		purpose: "make the review sheet: findings, ledger, torques, what changed in meaning",
		example: `refitcard review end-cover.md --against approved/end-cover.md

end-cover.md -> SD-114-C-review.pdf
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE`, FOLDER/ or - (else beside the source, named by number and revision)")
			o.formatOf(set, "pdf", "html", "boxes")
			o.againstOf(set)
			o.page(set)
			o.common(set)
		},
		run: runReview,
	}
}

// againstOf adds the option that names an earlier version.
func (o *options) againstOf(set *pflag.FlagSet) {
	set.StringVar(&o.against, "against", "", "the earlier version: `OLD`, a file, or a folder with a file of the same name")
}

// runReview makes the sheets also of procedures with errors: those are what a reviewer wants to see. Then it exits 1.
func runReview(s *session) (int, error) {
	jobs, err := s.jobs()
	if err == nil {
		err = s.holdAgainst(jobs)
	}
	if err != nil {
		return 0, err
	}
	return s.makeJobs(jobs, true, func(c compiled) ([]made, error) {
		m, err := s.reviewSheet(c, s.plainPaper(c))
		return []made{m}, err
	})
}

// holdAgainst gives each job the earlier version that --against names for it.
func (s *session) holdAgainst(jobs []job) error {
	if s.opt.against == "" {
		return nil
	}
	folder := isFolder(s.opt.against)
	if !folder && len(jobs) > 1 {
		return usageError{
			fmt.Sprintf("%d procedures can't be held against the one file %q", len(jobs), s.opt.against), "--against FOLDER, with files of the same names",
		}
	}
	libs := newLibraries()
	for i, j := range jobs {
		name := s.opt.against
		if folder {
			name = filepath.Join(name, filepath.Base(j.shown))
		}
		old, err := s.compileEarlier(libs, name)
		switch {
		case folder && errors.Is(err, fs.ErrNotExist):
			continue // a procedure that has no earlier version
		case err != nil:
			return err
		}
		jobs[i].against = old
	}
	return nil
}

// compileEarlier reads an earlier version. What is wrong with it is no concern of the new one.
func (s *session) compileEarlier(libs *libraries, name string) (*procedure.Procedure, error) {
	if _, err := os.Stat(name); err != nil {
		if isFolder(s.opt.against) {
			return nil, err
		}
		return nil, missing(name, err)
	}
	j, err := s.locate(libs, name)
	if err != nil {
		return nil, err
	}
	c := j.compile(rules.Options{})
	if c.err != nil {
		return nil, fmt.Errorf("%s: %w", name, rootCause(c.err))
	}
	return c.Proc, nil
}

// plainPaper is the office's paper: what the command line says, else Letter where the card is on Letter or half of it, else A4.
func (s *session) plainPaper(c compiled) string {
	switch {
	case s.opt.paper != "":
		return s.opt.paper
	case strings.Contains(s.paper(c.Proc, c.Settings), "letter"):
		return "letter"
	}
	return "a4"
}

// reviewSheet makes the sheet of one procedure; one with variants has a ledger for each.
func (s *session) reviewSheet(c compiled, paper string) (made, error) {
	variant := ""
	if s.opt.variant != "" {
		one, err := s.variants(c)
		if err != nil {
			return made{}, err
		}
		variant = one[0]
	}
	r := document.MakeReview(document.ReviewInput{Proc: c.Proc, Old: c.against, Settings: c.Settings, Findings: c.Findings, Variant: variant, Units: s.opt.units})
	base := baseName(c, variant, "review")
	if s.opt.format == "html" {
		var b bytes.Buffer
		err := html.Review(&b, r)
		return made{base + ".html", b.Bytes()}, err
	}
	page, err := sheet.LayReview(r, sheet.Options{Paper: paper})
	if err != nil {
		return made{}, err
	}
	ending := ".pdf"
	if s.opt.format == "boxes" {
		ending = ".boxes.txt"
	}
	data, err := s.draw(page)
	return made{base + ending, data}, err
}
