package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/rogpeppe/go-internal/diff"
	"github.com/spf13/pflag"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// maxRounds bounds how often mending begins anew: a slip that is mended may bring another to light, and no more than a few do.
const maxRounds = 8

func mendTask() task {
	return task{
		name: "mend", args: "[options] FILE|FOLDER|- …",
		purpose: "mend in place what can only be a slip of the pen, and show the rest",
		example: `refitcard mend end-cover.md

end-cover.md:41:15  "cover botls" is now "cover bolts"
1 mended in 1 of 1 procedure
`,
		options: func(set *pflag.FlagSet, o *options) {
			set.BoolVar(&o.dryRun, "dry-run", false, "touch nothing: print a unified diff of what would change")
			set.StringVar(&o.failOn, "fail-on", "warning", "exit 1 when a finding of this severity or above is left: error, warning or advice")
			o.common(set)
		},
		run: runMend,
	}
}

// mendable is one procedure on its way to being mended.
type mendable struct {
	job
	before []byte // as it was read
	now    []byte // as it would be written
}

// mending is one call of the verb. Nothing is written before all is known.
type mending struct {
	s    *session
	jobs []*mendable
	docs map[string]*mendable // by the name that findings give it
	told []change
}

// change is one piece of text that was mended, at its place when that happened.
type change struct {
	name         string
	line, column int
	was, now     string
}

func runMend(s *session) (int, error) {
	m, err := s.mending()
	if err != nil {
		return 0, err
	}
	left, unread, err := m.mend()
	if err != nil {
		return 0, err
	}
	if s.opt.dryRun {
		err = m.showDiff()
	} else {
		err = m.write()
	}
	if err != nil {
		return 0, err
	}
	if err := m.tell(left); err != nil {
		return 0, err
	}
	switch {
	case unread:
		return unusable, nil
	case slices.ContainsFunc(left, func(f diag.Finding) bool { return f.Waived == "" && f.Severity >= s.opt.threshold }):
		return found, nil
	}
	return done, nil
}

// mending reads the procedures that were named, each once.
func (s *session) mending() (*mending, error) {
	jobs, err := s.jobs()
	if err != nil {
		return nil, err
	}
	m := &mending{s: s, docs: map[string]*mendable{}}
	taken := map[string]bool{}
	for _, j := range jobs {
		d := &mendable{job: j, before: j.text}
		if j.text == nil {
			place := filepath.Join(j.root, filepath.FromSlash(j.path))
			if taken[place] {
				continue
			}
			taken[place] = true
			d.before, _ = readProcedure(place) // the compile tells what is wrong with it
		}
		d.now = d.before
		m.jobs = append(m.jobs, d)
	}
	return m, nil
}

// mend makes the safe fixes in memory until none is left, and gives the findings that then stand.
func (m *mending) mend() (left []diag.Finding, unread bool, err error) {
	for range maxRounds {
		if left, unread, err = m.check(); err != nil {
			return nil, unread, err
		}
		picked := diag.Safe(left, m.mayChange)
		if len(picked) == 0 {
			return left, unread, nil
		}
		m.apply(picked)
	}
	return m.check()
}

// mayChange tells whether a file was named on the command line, and was read whole: what lies beyond the limit of a file is
// not in the compile, and must not be lost.
func (m *mending) mayChange(f *source.File) bool {
	d := m.docs[f.Name]
	return d != nil && bytes.Equal(d.now, diag.Apply(f, nil))
}

// check compiles all procedures as they stand in memory.
func (m *mending) check() (all []diag.Finding, unread bool, err error) {
	libs := map[string]*compiler.Library{}
	jobs := make([]job, len(m.jobs))
	for i, d := range m.jobs {
		jobs[i] = d.job
		if libs[d.root] == nil {
			if libs[d.root], err = m.library(d.root); err != nil {
				return nil, false, err
			}
		}
		jobs[i].lib = libs[d.root]
		if d.text != nil {
			jobs[i].text = d.now
		}
	}
	at := 0
	progress := m.s.progress(len(jobs))
	err = m.s.compileAll(jobs, rules.Options{}, func(c compiled) error {
		progress.step(c.shown)
		if c.err != nil {
			unread = true
			c.Findings = []diag.Finding{unreadable(c)}
		} else {
			m.docs[c.named()] = m.jobs[at]
		}
		at++
		all = append(all, c.Findings...)
		return nil
	})
	progress.done()
	return diag.Sort(all), unread, err
}

// library opens a library in which the procedures stand as they are in memory.
func (m *mending) library(root string) (*compiler.Library, error) {
	fsys, err := rooted(root)
	if err != nil {
		return nil, err
	}
	over := overlay{fsys, map[string][]byte{}}
	for _, d := range m.jobs {
		if d.root == root && !bytes.Equal(d.now, d.before) {
			over.texts[d.path] = d.now
		}
	}
	return compiler.Open(over, shownFrom(root)), nil
}

// apply makes fixes in memory and notes each change.
func (m *mending) apply(picked []diag.Mended) {
	edits := map[string][]diag.Edit{}
	files := map[string]*source.File{}
	for _, p := range picked {
		for _, e := range p.Fix.Edits {
			name := e.At.File.Name
			files[name] = e.At.File
			edits[name] = append(edits[name], e)
			at := e.At.File.Position(e.At.Start)
			c := change{name, at.Line, at.Column, strings.Join(strings.Fields(e.At.Text()), " "), e.Text}
			if !slices.Contains(m.told, c) { // two procedures that include a file ask for the same
				m.told = append(m.told, c)
			}
		}
	}
	for name, f := range files {
		m.docs[name].now = diag.Apply(f, edits[name])
	}
}

func (m *mending) changed() []*mendable {
	var all []*mendable
	for _, d := range m.jobs {
		if !bytes.Equal(d.before, d.now) {
			all = append(all, d)
		}
	}
	return all
}

// write puts the mended procedures where they were: all of them, once it is sure that nobody else has changed one meanwhile.
// Standard input goes to standard output, mended or not.
func (m *mending) write() error {
	if err := m.s.ctx.Err(); err != nil {
		return err
	}
	for _, d := range m.changed() {
		if d.text != nil {
			continue
		}
		if now, err := readProcedure(d.shown); err != nil || !bytes.Equal(now, d.before) {
			return fmt.Errorf("%q was changed by someone else meanwhile: nothing was written; mend it again", d.shown)
		}
	}
	for _, d := range m.jobs {
		var err error
		switch {
		case d.text != nil:
			_, err = m.s.Out.Write(d.now)
		case !bytes.Equal(d.before, d.now):
			err = m.s.writeNamed(d.shown, d.now)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (m *mending) showDiff() error {
	for _, d := range m.changed() {
		if err := m.s.showDiff(diff.Diff(d.shown, d.before, d.shown, d.now)); err != nil {
			return err
		}
	}
	return nil
}

// showDiff prints a diff byte for byte, save on a terminal, which it must not steer.
func (s *session) showDiff(data []byte) error {
	if s.Width(s.Out) > 0 {
		data = []byte(source.PlainLines(string(data)))
	}
	_, err := s.Out.Write(data)
	return err
}

// tell says on standard error what was mended, and shows what is left for a person.
func (m *mending) tell(left []diag.Finding) error {
	s := m.s
	if !s.opt.quiet {
		m.tellChanges()
		fmt.Fprintln(s.Err, m.summary())
	}
	r := s.results(left, len(m.jobs))
	r.Width, r.Colour, r.Offers = s.Width(s.Err), s.colourOn(s.Err), true
	if e, w, a, _ := r.Count(); e+w+a == 0 {
		return nil
	}
	if !s.opt.quiet {
		fmt.Fprintln(s.Err)
	}
	return report.Text(s.Err, r)
}

func (m *mending) tellChanges() {
	slices.SortStableFunc(m.told, func(a, b change) int {
		return cmp.Or(strings.Compare(a.name, b.name), a.line-b.line, a.column-b.column)
	})
	is := "is now"
	if m.s.opt.dryRun {
		is = "would be"
	}
	for _, c := range m.told {
		m.s.say("%s:%d:%d  %q %s %q\n", c.name, c.line, c.column, c.was, is, c.now)
	}
}

// summary is "2 mended in 1 of 3 procedures".
func (m *mending) summary() string {
	procedures := "1 procedure"
	if len(m.jobs) != 1 {
		procedures = fmt.Sprintf("%d procedures", len(m.jobs))
	}
	switch {
	case len(m.told) == 0:
		return "nothing to mend in " + procedures
	case m.s.opt.dryRun:
		return fmt.Sprintf("%d would be mended in %d of %s", len(m.told), len(m.changed()), procedures)
	}
	return fmt.Sprintf("%d mended in %d of %s", len(m.told), len(m.changed()), procedures)
}

// overlay is a folder in which some files hold other text than on the disk.
type overlay struct {
	fs.FS
	texts map[string][]byte
}

// Open opens a file as it is in memory, else as it is on the disk.
func (o overlay) Open(name string) (fs.File, error) {
	f, err := o.FS.Open(name)
	text, ok := o.texts[name]
	if err != nil || !ok {
		return f, err
	}
	info, err := f.Stat()
	f.Close()
	return inMemory{bytes.NewReader(text), sized{info, int64(len(text))}}, err
}

// inMemory is an open file of an overlay.
type inMemory struct {
	*bytes.Reader
	info fs.FileInfo
}

func (f inMemory) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f inMemory) Close() error               { return nil }

// sized is what the disk says of a file, with the size it has in memory.
type sized struct {
	fs.FileInfo
	size int64
}

func (s sized) Size() int64 { return s.size }
