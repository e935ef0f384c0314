package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/render/document"
	"refitcard/render/html"
	"refitcard/render/sheet"
	"refitcard/render/text"
)

func pressTask() task {
	return task{
		name: "press", args: "[options] FOLDER … -o OUT/",
		purpose: "make the sheets of a whole library into one folder, with an index and a register",
		example: `refitcard press procedures -o cards/

14 procedures: 70 sheets made, 0 up to date
`,
		options: func(set *pflag.FlagSet, o *options) {
			o.output(set, "the `FOLDER` for everything (cards/ when not given)")
			o.page(set)
			set.Float64Var(&o.distance, "distance", 0, "reading distance in `MM` (else the settings', else 600)")
			set.StringVar(&o.ink, "ink", "colour", "black, or colour for the safety panels")
			set.StringVar(&o.deps, "deps", "", "write what each sheet depends on to `FILE`, in make's format")
			o.common(set)
		},
		run: runPress,
	}
}

// ledgerFile remembers what each sheet was made from, so that only what is out of date is made again.
const ledgerFile = ".made.json"

// pressing is one run of press.
type pressing struct {
	s        *session
	dir      string
	before   map[string]string // sheet → digest of all that it was made from, in the last run
	now      map[string]string
	made     int
	kept     int
	wrong    []error // procedures that can't be read or laid out: the others are made all the same
	register []html.Entry
	deps     strings.Builder
	sources  map[string]bool // every file that some sheet depends on
}

// pressedJob is a procedure with its sheets, or why none could be made.
type pressedJob struct {
	compiled
	sheets []pressedSheet
	unmade error
}

// pressedSheet is one sheet of a procedure: it stands there as it would be made now, or it was made, or err tells why not.
type pressedSheet struct {
	name   string
	digest string // of all that it is made from
	kept   bool
	data   []byte
	err    error
}

func runPress(s *session) (int, error) {
	if s.opt.out == "-" {
		return 0, usageError{"press fills a folder, not standard output", "-o cards/"}
	}
	jobs, err := s.jobs()
	if err != nil {
		return 0, err
	}
	p := &pressing{s: s, dir: s.opt.out, now: map[string]string{}, sources: map[string]bool{}}
	if p.dir == "" {
		p.dir = "cards"
	}
	if err := os.MkdirAll(p.dir, 0o755); err != nil {
		return 0, fmt.Errorf("can't make the folder %q: %w", p.dir, rootCause(err))
	}
	p.before = readLedger(filepath.Join(p.dir, ledgerFile))
	code := done
	var findings []diag.Finding
	s.opt.draws = true
	progress := s.progress(len(jobs))
	do := func(j job) pressedJob {
		c := pressedJob{compiled: j.compile(rules.Options{})}
		if c.err == nil && !c.Failed() {
			c.err = safely(func() { c.sheets, c.unmade = p.sheets(c.compiled) })
		}
		return c
	}
	err = workAll(s, jobs, do, func(c pressedJob) error {
		progress.step(c.shown)
		if c.err != nil {
			p.bad(c.compiled, rootCause(c.err))
			p.register = append(p.register, html.Entry{Source: c.shown, State: "can't be read: nothing made"})
			return nil
		}
		findings = append(findings, c.Findings...)
		if c.Failed() {
			code = found
			p.note(c.compiled, nil, "has errors: nothing made")
			return nil
		}
		return p.put(c)
	})
	progress.done()
	if err != nil {
		return 0, err
	}
	if err := s.tell(findings, len(jobs)); err != nil {
		return 0, err
	}
	if err := p.finish(); err != nil {
		return 0, err
	}
	for _, e := range p.wrong {
		s.say("refitcard: %v\n", e)
		code = unusable
	}
	if !s.opt.quiet {
		s.say("%s: %d sheets made, %d up to date, in %s\n", countOf(len(jobs), "procedure"), p.made, p.kept, p.dir)
	}
	return code, nil
}

func countOf(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// sheets makes card, record sheet, pick list and labels of every variant, and the review sheet, save those that are up to date.
// It is called for several procedures at once, and changes nothing that others see.
func (p *pressing) sheets(c compiled) ([]pressedSheet, error) {
	digest := p.inputs(c)
	variants := []string{""}
	if len(c.Proc.Variants) > 0 || p.s.opt.variant == "" {
		var err error
		if variants, err = p.s.variants(c); err != nil {
			return nil, err
		}
	}
	var all []pressedSheet
	add := func(variant, kind string, make func() (made, error)) {
		base := baseName(c, variant, kind)
		if p.upToDate(base+".pdf", digest) {
			all = append(all, pressedSheet{name: base + ".pdf", digest: digest, kept: true})
			return
		}
		m, err := make()
		all = append(all, pressedSheet{base + ".pdf", digest, false, m.data, err})
	}
	for _, v := range variants {
		add(v, "card", func() (made, error) { return p.s.card(c, v) })
		add(v, "record", func() (made, error) { return p.s.record(c, v, p.s.officePaper(c)) })
		add(v, "pick", func() (made, error) {
			return p.s.pickList([]document.PickInput{pickInput(c, v)}, baseName(c, v, "pick"))
		})
		if len(p.s.labelled(c, v).Labels) > 0 { // else nothing comes off: a sheet of blank labels would be no use
			add(v, "labels", func() (made, error) { return p.s.labels(c, v, sheet.LabelOptions{Paper: p.s.officePaper(c)}) })
		}
	}
	if p.s.opt.variant == "" { // one review for all variants
		add("", "review", func() (made, error) { return p.s.reviewSheet(c, p.s.officePaper(c)) })
	}
	return all, nil
}

// upToDate tells whether a sheet stands in the folder as it would be made now.
func (p *pressing) upToDate(name, digest string) bool {
	_, err := os.Stat(filepath.Join(p.dir, name))
	return err == nil && p.before[name] == digest
}

// put writes the sheets that were made of a procedure, and enters it in the register.
func (p *pressing) put(c pressedJob) error {
	if c.unmade != nil {
		p.bad(c.compiled, c.unmade)
		return nil
	}
	var names []string
	for _, m := range c.sheets {
		if err := p.sheet(c.compiled, m); err != nil {
			return err
		}
		names = append(names, m.name)
	}
	p.note(c.compiled, names, state(c.Proc))
	return nil
}

// bad keeps what went wrong with one procedure until all the others are made.
func (p *pressing) bad(c compiled, err error) {
	p.wrong = append(p.wrong, fmt.Errorf("%s: %w", c.shown, err))
}

// state tells how far a procedure is: approved, or a draft.
func state(proc *procedure.Procedure) string {
	if proc.Approved.Set() {
		return "approved"
	}
	return "draft"
}

func (p *pressing) sheet(c compiled, m pressedSheet) error {
	if _, taken := p.now[m.name]; taken {
		return usageError{fmt.Sprintf("two procedures would both make %q, the second is %q", m.name, c.shown), "give each its own number"}
	}
	full := filepath.Join(p.dir, m.name)
	p.depend(c, full)
	if m.err != nil {
		p.bad(c, m.err)
		return nil
	}
	p.now[m.name] = m.digest
	if m.kept {
		p.kept++
		return nil
	}
	p.made++
	return p.s.writeWhole(full, m.data)
}

// inputs digests all that the sheets of a procedure are made from: sources, figures, settings, lists, options, this program.
func (p *pressing) inputs(c compiled) string {
	h := sha256.New()
	add := func(name string, data []byte) { fmt.Fprintf(h, "%s %d\n%s\n", name, len(data), data) }
	add("program", []byte(versionText()+programDigest()))
	o := p.s.opt
	add("options", fmt.Appendf(nil, "%q %q %q %v %q", o.paper, o.units, o.variant, o.distance, o.ink))
	for _, f := range c.Proc.Sources {
		add(f.Path, f.Text)
	}
	for _, f := range figures(c.Proc) {
		add(f.File, f.Data)
	}
	for _, name := range c.Settings.Files() {
		data, _ := os.ReadFile(filepath.Join(c.root, filepath.FromSlash(name)))
		add(name, data)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// programDigest tells one build of the program from another, so that a newer one makes its sheets anew.
func programDigest() string {
	name, err := os.Executable()
	if err != nil {
		return ""
	}
	info, err := os.Stat(name)
	if err != nil {
		return ""
	}
	return fmt.Sprint(info.Size(), " ", info.ModTime().UnixNano())
}

// depend writes one rule in make's format: the sheet, and every file it is made from.
func (p *pressing) depend(c compiled, sheet string) {
	if p.s.opt.deps == "" {
		return
	}
	files := []string{c.path}
	for _, f := range c.Proc.Sources[1:] {
		files = append(files, f.Path)
	}
	for _, f := range figures(c.Proc) {
		files = append(files, f.File)
	}
	files = append(files, c.Settings.Files()...)
	p.deps.WriteString(escapeMake(sheet) + ":")
	for _, f := range files {
		name := escapeMake(fromHere(filepath.Join(c.root, filepath.FromSlash(f))))
		p.sources[name] = true
		p.deps.WriteString(" \\\n  " + name)
	}
	p.deps.WriteString("\n\n")
}

// fromHere names a file from the folder that the program was called in, where it lies below it: no path of this machine then
// stands in the dependencies.
func fromHere(name string) string {
	here, err := os.Getwd()
	if err != nil {
		return name
	}
	if rel, err := filepath.Rel(here, name); err == nil && filepath.IsLocal(rel) {
		return rel
	}
	return name
}

// depsText is the file of dependencies. Every source has an empty rule at the end, so that make does not stop at one that was
// renamed since: its sheets are out of date then.
func (p *pressing) depsText() string {
	var b strings.Builder
	b.WriteString(p.deps.String())
	for _, name := range slices.Sorted(maps.Keys(p.sources)) {
		b.WriteString(name + ":\n")
	}
	return b.String()
}

// escapeMake writes a file's name so that make reads it back: spaces, tabs, # and $ are special there, and the signs that
// stand for any letters. A line end can't be written: the mark in its place names no file, and does no harm.
func escapeMake(name string) string {
	return strings.NewReplacer(
		" ", `\ `, "\t", "\\\t", "#", `\#`, "$", "$$", "*", `\*`, "?", `\?`, "[", `\[`, "\n", "\ufffd", "\r", "\ufffd",
	).Replace(filepath.ToSlash(name))
}

// figures lists the pictures of a procedure that could be read.
func figures(proc *procedure.Procedure) []*procedure.Figure {
	return slices.DeleteFunc(proc.Figures(), func(f *procedure.Figure) bool { return f.Data == nil })
}

func (p *pressing) note(c compiled, sheets []string, state string) {
	p.register = append(p.register, html.Entry{
		Number: c.Proc.Number.Value, Revision: c.Proc.Revision.Value, Date: c.Proc.Date.Value, Title: c.Proc.Title.Value,
		Machine: c.Proc.Machine.Value, Source: c.shown, Sheets: sheets, State: state,
	})
}

// finish writes the index, the register, the dependencies, and last the memory of what was made.
func (p *pressing) finish() error {
	slices.SortStableFunc(p.register, func(a, b html.Entry) int { return strings.Compare(a.Number, b.Number) })
	var index bytes.Buffer
	if err := html.Index(&index, p.register); err != nil {
		return err
	}
	register, err := registerCSV(p.register)
	if err != nil {
		return err
	}
	ledger, err := json.MarshalIndent(p.now, "", " ")
	if err != nil {
		return err
	}
	for _, f := range []struct {
		name string
		data []byte
	}{{"index.html", index.Bytes()}, {"register.csv", register}, {ledgerFile, ledger}} {
		if err := p.s.writeWhole(filepath.Join(p.dir, f.name), f.data); err != nil {
			return err
		}
	}
	if p.s.opt.deps != "" {
		return p.s.writeNamed(p.s.opt.deps, []byte(p.depsText()))
	}
	return nil
}

// registerCSV is the register of procedures for a spreadsheet.
func registerCSV(entries []html.Entry) ([]byte, error) {
	var b bytes.Buffer
	c := csv.NewWriter(&b)
	rows := [][]string{{"number", "revision", "date", "title", "machine", "state", "source", "sheets"}}
	for _, e := range entries {
		rows = append(rows, []string{e.Number, e.Revision, e.Date, e.Title, e.Machine, e.State, e.Source, strings.Join(e.Sheets, " ")})
	}
	for _, row := range rows {
		for i := range row {
			row[i] = text.Harmless(row[i])
		}
	}
	err := c.WriteAll(rows)
	return b.Bytes(), err
}

func readLedger(name string) map[string]string {
	m := map[string]string{}
	data, err := os.ReadFile(name)
	if err != nil && !os.IsNotExist(err) || json.Unmarshal(data, &m) != nil {
		return map[string]string{} // a memory that can't be read: everything is made again
	}
	return m
}
