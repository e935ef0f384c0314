package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/diag"
	"refitcard/compiler/keys"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/render/document"
	"refitcard/render/sheet"
	"refitcard/render/text"
)

func pickTask() task {
	return task{
		name: "pick", args: "[options] FILE|FOLDER|- …",
		purpose: "make the pick list of one job, or of several taken together",
		example: `refitcard pick end-cover.md mower-service.md -o today.pdf

2 procedures -> today.pdf
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE`, FOLDER/ or - (else beside the source, named by number and revision)")
			o.formatOf(set, "pdf", "text", "csv", "boxes")
			set.StringVar(&o.on, "on", "", "the day of the work, such as 2026-12-01: tools whose calibration ran out before it are said")
			o.page(set)
			o.common(set)
		},
		run: runPick,
	}
}

func runPick(s *session) (int, error) {
	if s.opt.on != "" && !keys.Date(s.opt.on) {
		return 0, usageError{fmt.Sprintf("--on %q is no day of the calendar", s.opt.on), "--on 2026-12-01"}
	}
	jobs, err := s.jobs()
	if err != nil {
		return 0, err
	}
	to, err := s.outputs(false)
	if err != nil {
		return 0, err
	}
	var all []compiled
	var findings []diag.Finding
	failed := false
	err = s.compileAll(jobs, rules.Options{}, func(c compiled) error {
		if c.err != nil {
			return fmt.Errorf("%s: %w", c.shown, rootCause(c.err))
		}
		all = append(all, c)
		findings = append(findings, c.Findings...)
		failed = failed || c.Failed()
		return nil
	})
	if err != nil {
		return 0, err
	}
	if err := s.tell(findings, len(jobs)); err != nil {
		return 0, err
	}
	if failed {
		return found, nil // a list of some of the jobs would be taken for a list of all
	}
	outputs, err := s.picks(all)
	if err != nil {
		return 0, err
	}
	to.many = len(outputs) > 1
	for _, m := range outputs {
		name, err := to.put(all[0].dir(), m.base, m.data)
		if err != nil {
			return 0, err
		}
		if name != "-" && !s.opt.quiet {
			s.say("%s -> %s\n", jobsNamed(all), name)
		}
	}
	return done, nil
}

func jobsNamed(all []compiled) string {
	if len(all) == 1 {
		return all[0].shown
	}
	return fmt.Sprintf("%d procedures", len(all))
}

// picks makes the list of jobs taken together; a single job with variants gives a list a variant.
func (s *session) picks(all []compiled) ([]made, error) {
	if len(all) == 1 {
		variants, err := s.variants(all[0])
		if err != nil {
			return nil, err
		}
		var lists []made
		for _, v := range variants {
			m, err := s.pickList([]document.PickInput{pickInput(all[0], v)}, baseName(all[0], v, "pick"))
			if err != nil {
				return nil, err
			}
			lists = append(lists, m)
		}
		return lists, nil
	}
	var inputs []document.PickInput
	for _, c := range all {
		variant, err := s.onlyVariant(c)
		if err != nil {
			return nil, err
		}
		inputs = append(inputs, pickInput(c, variant))
	}
	base := fmt.Sprintf("%s-and-%d-more", strings.TrimSuffix(baseName(all[0], "", "pick"), "-pick"), len(all)-1)
	m, err := s.pickList(inputs, base+"-pick")
	return []made{m}, err
}

// onlyVariant gives the variant of a job that is taken together with others: it has to be clear which.
func (s *session) onlyVariant(c compiled) (string, error) {
	if len(c.Proc.Variants) == 0 {
		return "", nil
	}
	for _, v := range c.Proc.Variants {
		if strings.EqualFold(v.Value, s.opt.variant) {
			return v.Value, nil
		}
	}
	var names []string
	for _, v := range c.Proc.Variants {
		names = append(names, v.Value)
	}
	return "", usageError{
		fmt.Sprintf("%s has the variants %s: which one?", c.shown, strings.Join(names, ", ")),
		"--variant " + names[0],
	}
}

func pickInput(c compiled, variant string) document.PickInput {
	return document.PickInput{
		Proc: c.Proc, Plays: c.Plays, Settings: c.Settings, Variant: variant, Digest: source.Digest(c.Proc.Sources...),
	}
}

func (s *session) pickList(in []document.PickInput, base string) (made, error) {
	for i := range in {
		in[i].On = s.opt.on
	}
	list := document.Pick(in)
	var b bytes.Buffer
	var err error
	ending := ".pdf"
	switch s.opt.format {
	case "text":
		ending, err = ".txt", text.Pick(&b, list)
		b = *bytes.NewBufferString(source.PlainLines(b.String()))
	case "csv":
		ending, err = ".csv", text.PickCSV(&b, list)
	default:
		page, err := sheet.LayPick(list, s.pickOptions())
		if err != nil {
			return made{}, err
		}
		if s.opt.format == "boxes" {
			ending = ".boxes.txt"
		}
		data, err := s.draw(page)
		return made{base + ending, data}, err
	}
	return made{base + ending, b.Bytes()}, err
}
