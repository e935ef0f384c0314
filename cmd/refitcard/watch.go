package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/spf13/pflag"

	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/render/document"
	"refitcard/render/pdf"
	"refitcard/render/preview"
	"refitcard/render/sheet"
)

func watchTask() task {
	return task{
		name: "watch", args: "[options] FILE|FOLDER",
		purpose: "show the card and the findings in the browser, renewed at each save",
		example: `refitcard watch end-cover.md

open http://127.0.0.1:40183/kq3v7n2hd5wm4x6ztb8ryc9s1e/   (Ctrl-C ends it)
`,
		options: func(set *pflag.FlagSet, o *options) {
			set.IntVar(&o.port, "port", 0, "listen on this `PORT` of this machine (else one that is free)")
			o.page(set)
			o.sheet(set)
			set.StringVar(&o.settings, "settings", "", "settings `FILE` (else refitcard.yaml, found upwards from the procedure)")
		},
		run: runWatch,
	}
}

// runWatch shows pages until it is stopped, which is how it is meant to end.
func runWatch(s *session) (int, error) {
	if len(s.args) != 1 || s.args[0] == "-" {
		return 0, usageError{"watch takes one procedure or one folder", "refitcard watch FILE"}
	}
	if s.opt.port < 0 || s.opt.port > 65535 {
		return 0, usageError{fmt.Sprintf("--port %d: a port is a number up to 65535", s.opt.port), "leave out --port: the system chooses one"}
	}
	info, err := os.Stat(s.args[0])
	if err != nil {
		return 0, missing(s.args[0], err)
	}
	opt := preview.Options{
		Maker: newMaker(s), Port: s.opt.port,
		Told: func(address string) { fmt.Fprintf(s.Err, "open %s   (Ctrl-C ends it)\n", address) },
	}
	if !info.IsDir() {
		opt.Name = filepath.ToSlash(s.args[0])
	}
	err = preview.Serve(s.ctx, opt)
	if errors.Is(err, preview.ErrTaken) {
		return 0, usageError{err.Error(), "leave out --port: the system chooses one that is free"}
	}
	return done, err
}

// maker makes what watch shows. It opens the libraries anew for each change: their settings and lists may have changed as well.
type maker struct {
	s     *session
	libs  *libraries
	reads *recorder
}

func newMaker(s *session) *maker {
	m := &maker{s: s, reads: &recorder{}}
	m.Anew()
	return m
}

// Anew forgets what was read.
func (m *maker) Anew() {
	m.reads.close()
	m.reads = &recorder{}
	m.libs = newLibraries()
	m.libs.files = m.reads.open
}

// Names lists the procedures of the folder.
func (m *maker) Names() (names, read []string, err error) {
	m.walked(&read)
	jobs, err := m.s.expand(m.libs, m.s.args[0])
	var none usageError
	if errors.As(err, &none) {
		err = nil // an empty folder may be filled
	}
	for _, j := range jobs {
		names = append(names, j.shown)
	}
	return names, read, err
}

// walked gathers the folders that the list of procedures depends on.
func (m *maker) walked(read *[]string) {
	_ = filepath.WalkDir(m.s.args[0], func(name string, e fs.DirEntry, err error) error { // what can't be read has no procedures
		switch {
		case err != nil:
			return nil
		case e.IsDir() && name != m.s.args[0] && strings.HasPrefix(e.Name(), "."):
			return filepath.SkipDir
		case e.IsDir():
			if abs, err := filepath.Abs(name); err == nil {
				*read = append(*read, abs)
			}
		}
		return nil
	})
}

// Explain gives what refitcard explain prints.
func (m *maker) Explain(name string) (why, whole string) {
	rule, text, ok := namedRule(name)
	if !ok {
		return "", ""
	}
	return text.Why, explanation(rule, text)
}

// Make compiles a procedure and lays its cards out, as card does. What card would refuse is not shown as a card either.
func (m *maker) Make(name string) (w preview.Work) {
	defer func() {
		if r := recover(); r != nil {
			w.Cards, w.Wrong = nil, fmt.Sprintf("the program stumbled over this procedure (%v): please report it with the file", r)
		}
		w.Read = append(w.Read, m.reads.since()...)
	}()
	if abs, err := filepath.Abs(name); err == nil {
		w.Read = append(w.Read, abs)
	}
	j, err := m.s.locate(m.libs, name)
	if err != nil {
		w.Wrong = message(err)
		return w
	}
	c := j.compile(rules.Options{})
	if c.err != nil {
		if w.Gone = errors.Is(c.err, fs.ErrNotExist); w.Gone {
			w.Wrong = "the file is not there, and this page waits for it"
		} else {
			w.Wrong = fmt.Sprintf("%s: %v", name, rootCause(c.err))
		}
		return w
	}
	w.Title = strings.TrimSpace(c.Proc.Number.Value + "  " + c.Proc.Title.Value)
	w.Findings, w.Files = c.Findings, append([]*source.File{c.Proc.File}, c.Proc.Sources...)
	if c.Failed() {
		return w
	}
	if w.Cards, err = m.cards(c); err != nil {
		w.Cards, w.Wrong = nil, message(err)
	}
	return w
}

// message says an error with what to do, on one line.
func message(err error) string {
	var usage usageError
	if errors.As(err, &usage) && usage.do != "" {
		return usage.message + ": " + usage.do
	}
	return err.Error()
}

func (m *maker) cards(c compiled) ([]preview.Card, error) {
	variants, err := m.s.variants(c)
	if err != nil {
		return nil, err
	}
	var all []preview.Card
	for _, v := range variants {
		card := document.Card(c.Proc, c.Plays, c.Settings, document.Options{Variant: v, Units: m.s.opt.units})
		page, err := sheet.LayCard(card, m.s.sheetOptions(c))
		if err == nil {
			err = pdf.Write(io.Discard, page) // it refuses what can't be printed
		}
		if err != nil {
			return nil, err
		}
		all = append(all, preview.Card{Variant: v, Sheet: page})
	}
	return all, nil
}

// recorder remembers which files were opened below the roots of libraries, those too that were not there.
type recorder struct {
	mu     sync.Mutex
	all    []string
	told   int // how many of them were asked for
	opened []io.Closer
}

// open gives the files below a folder, as rooted does.
func (r *recorder) open(root string) (fs.FS, error) {
	dir, err := os.OpenRoot(root)
	if err != nil {
		return nil, err
	}
	r.opened = append(r.opened, dir)
	return recorded{r, root, dir.FS()}, nil
}

func (r *recorder) close() {
	for _, c := range r.opened {
		c.Close()
	}
}

// since gives what was opened since it was asked last.
func (r *recorder) since() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	news := r.all[r.told:]
	r.told = len(r.all)
	return news
}

// recorded is a file system that tells the recorder what is opened.
type recorded struct {
	to   *recorder
	root string
	fs.FS
}

// Open opens a file and remembers that it was asked for.
func (f recorded) Open(name string) (fs.File, error) {
	f.to.mu.Lock()
	f.to.all = append(f.to.all, filepath.Join(f.root, filepath.FromSlash(name)))
	f.to.mu.Unlock()
	return f.FS.Open(name)
}
