package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/render/document"
	"refitcard/render/html"
	"refitcard/render/pdf"
	"refitcard/render/sheet"
)

func cardTask() task {
	return task{
		name: "card", args: "[options] FILE|FOLDER|- …",
		purpose: "make the job card, PDF, for the bench; or one page for a tablet",
		example: `refitcard card end-cover.md --paper a5-landscape

end-cover.md -> SD-114-C-card.pdf
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "`FILE`, FOLDER/ or - (else beside the source, named by number and revision)")
			o.page(set)
			o.formatOf(set, "pdf", "html", "boxes")
			o.sheet(set)
			o.againstOf(set)
			o.common(set)
		},
		run: runCard,
	}
}

// sheet adds the options that say how a card is laid out on its paper.
func (o *options) sheet(set *pflag.FlagSet) {
	set.Float64Var(&o.distance, "distance", 0, "reading distance in `MM` (else the settings', else 600)")
	set.IntVar(&o.sheets, "sheets", 0, "fit on `N` sheets, with the largest type that does")
	set.IntVar(&o.sides, "sides", 2, "print on 1 or 2 sides of a sheet")
	set.StringVar(&o.punch, "punch", "", "leave room for holes: left or top")
	set.StringVar(&o.ink, "ink", "colour", "black, or colour for the safety panels")
}

// A made is one output of a procedure.
type made struct {
	base string
	data []byte
}

// sheeted is a procedure with the outputs made of it, or why they were not.
type sheeted struct {
	compiled
	outputs []made
	unmade  error
}

func runCard(s *session) (int, error) {
	jobs, err := s.jobs()
	if err == nil {
		err = s.holdAgainst(jobs)
	}
	if err != nil {
		return 0, err
	}
	return s.makeJobs(jobs, false, s.cards)
}

// makeEach compiles every procedure and writes what make gives for it, save where errors stand.
// Findings go to standard error; one procedure that fails does not keep the others from being made. Several are made at once, so
// make may change nothing that others see.
func (s *session) makeEach(make func(compiled) ([]made, error)) (int, error) {
	jobs, err := s.jobs()
	if err != nil {
		return 0, err
	}
	return s.makeJobs(jobs, false, make)
}

// makeJobs does what makeEach does for jobs that are known; failed tells to make the outputs also where errors stand.
func (s *session) makeJobs(jobs []job, failed bool, make func(compiled) ([]made, error)) (int, error) {
	to, err := s.outputs(len(jobs) > 1)
	if err != nil {
		return 0, err
	}
	if s.opt.out == "-" && len(jobs) > 1 {
		return 0, usageError{"standard output takes one sheet", "name one procedure, or a folder with -o FOLDER/"}
	}
	code := done
	var all []diag.Finding
	var wrong []error
	s.opt.draws = true
	progress := s.progress(len(jobs))
	do := func(j job) sheeted {
		c := sheeted{compiled: j.compile(rules.Options{})}
		if c.err == nil && (failed || !c.Failed()) {
			c.err = safely(func() { c.outputs, c.unmade = make(c.compiled) })
		}
		c.Result = compiler.Result{Findings: c.Findings} // the rest of it may go: only the sheets wait for their turn
		return c
	}
	err = workAll(s, jobs, do, func(c sheeted) error {
		progress.step(c.shown)
		all = append(all, c.Findings...)
		switch {
		case c.err != nil:
			wrong = append(wrong, fmt.Errorf("%s: %w", c.shown, rootCause(c.err)))
			return nil
		case c.Failed():
			code = found
		}
		if c.unmade != nil {
			wrong = append(wrong, fmt.Errorf("%s: %w", c.shown, c.unmade))
			return nil
		}
		return s.putAll(to, c.compiled, c.outputs)
	})
	progress.done()
	if err != nil {
		return 0, err
	}
	if err := s.tell(all, len(jobs)); err != nil {
		return 0, err
	}
	for _, e := range wrong {
		s.say("refitcard: %v\n", e)
		code = unusable
	}
	return code, nil
}

func (s *session) putAll(to *outputs, c compiled, outputs []made) error {
	to.many = to.many || len(outputs) > 1
	for _, m := range outputs {
		name, err := to.put(c.dir(), m.base, m.data)
		if err != nil {
			return err
		}
		if name != "-" && !s.opt.quiet {
			s.say("%s -> %s\n", c.shown, name)
		}
	}
	return nil
}

// tell writes the findings of a verb whose output they are not to standard error; nothing when there are none.
func (s *session) tell(all []diag.Finding, files int) error {
	r := s.results(diag.Sort(all), files)
	r.Width, r.Colour = s.Width(s.Err), s.colourOn(s.Err)
	if e, w, a, _ := r.Count(); e+w+a == 0 {
		return nil
	}
	return report.Text(s.Err, r)
}

// variants gives the variants to make sheets for: the one asked for, else each, else "" for a job without any.
func (s *session) variants(c compiled) ([]string, error) {
	var names []string
	for _, v := range c.Proc.Variants {
		names = append(names, v.Value)
	}
	if s.opt.variant == "" {
		if len(names) == 0 {
			return []string{""}, nil
		}
		return names, nil
	}
	for _, n := range names {
		if strings.EqualFold(n, s.opt.variant) {
			return []string{n}, nil
		}
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("has no variants; leave out --variant %s", s.opt.variant)
	}
	return nil, fmt.Errorf("has no variant %q; it has %s", s.opt.variant, strings.Join(names, ", "))
}

// cards makes the cards of one procedure, one a variant.
func (s *session) cards(c compiled) ([]made, error) {
	return s.eachVariant(c, func(variant string) (made, error) { return s.card(c, variant) })
}

// card makes the card of one variant.
func (s *session) card(c compiled, variant string) (made, error) {
	card := document.Card(c.Proc, c.Plays, c.Settings, document.Options{Variant: variant, Units: s.opt.units, Old: c.against})
	if s.opt.format == "html" {
		var b bytes.Buffer
		err := html.Card(&b, card)
		return made{baseName(c, variant, "card") + ".html", b.Bytes()}, err
	}
	page, err := sheet.LayCard(card, s.sheetOptions(c))
	if err != nil {
		return made{}, err
	}
	page.Attachments, err = attachments(c, card)
	if err != nil {
		return made{}, err
	}
	return s.drawn(c, page, variant, "card")
}

// drawn turns pages into bytes in the format asked for, named by number, revision, variant and kind of sheet.
func (s *session) drawn(c compiled, page *sheet.Document, variant, kind string) (made, error) {
	data, err := s.draw(page)
	if err != nil {
		return made{}, err
	}
	ending := ".pdf"
	if s.opt.format == "boxes" {
		ending = ".txt"
	}
	return made{baseName(c, variant, kind) + ending, data}, nil
}

// draw makes a PDF file of pages, or a list of what stands where for the format boxes.
func (s *session) draw(page *sheet.Document) ([]byte, error) {
	if s.opt.format != "boxes" {
		return pdf.File(page)
	}
	var b bytes.Buffer
	err := sheet.Dump(&b, page)
	return b.Bytes(), err
}

// baseName is "SD-114-C-card": what could not stand in a file's name becomes a hyphen.
func baseName(c compiled, variant, kind string) string {
	parts := []string{c.Proc.Number.Value, c.Proc.Revision.Value}
	if variant != "" {
		parts = append(parts, variant)
	}
	safe := func(r rune) rune {
		if source.Steers(r) || strings.ContainsRune(`/\:*?"<>|% `, r) {
			return '-'
		}
		return r
	}
	name := strings.TrimLeft(strings.Map(safe, strings.Join(append(parts, kind), "-")), ".-")
	if first, _, _ := strings.Cut(name, "."); device(first) {
		return "_" + name
	}
	return name
}

// device tells whether Windows takes a name for a device, whatever stands behind its first dot.
func device(name string) bool {
	name = strings.ToUpper(name)
	switch name {
	case "CON", "PRN", "AUX", "NUL":
		return true
	}
	port, number := strings.CutPrefix(name, "COM")
	if !number {
		port, number = strings.CutPrefix(name, "LPT")
	}
	return number && len(port) == 1 && '0' <= port[0] && port[0] <= '9'
}
