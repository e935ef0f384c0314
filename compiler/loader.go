package compiler

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/resolve"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// loader fetches the included files and the figures of one procedure.
type loader struct {
	lib    *Library
	taken  []resolve.Included
	faults []source.Fault
	size   syntax.Size // of all files so far
	full   bool        // a limit on includes was met and said once
	bytes  int         // of the pictures read so far
	pixels int
}

// include takes in the files that a tree asks for, and those that they ask for in turn. chain is the way there.
func (l *loader) include(tree *syntax.Tree, chain []string) {
	for _, ask := range resolve.Includes(tree) {
		file := l.fetch(ask, chain)
		if file == nil {
			continue
		}
		sub := syntax.Parse(file, l.lib.settings.Verbs)
		if l.size = l.size.Add(sub.Size()); l.tooMuch(ask) {
			return
		}
		l.taken = append(l.taken, resolve.Included{Tree: sub, At: ask.At})
		l.include(sub, append(slices.Clone(chain), file.Path))
	}
}

// tooMuch tells whether all files together hold more than one may: then no more are taken in.
func (l *loader) tooMuch(ask resolve.Ask) bool {
	what, is, limit, over := l.size.Over()
	if over && !l.full {
		l.full = true
		l.faults = append(l.faults, source.Fault{Name: "file/too-large", At: ask.At, Words: []string{what}, Counts: []int{is, limit}})
	}
	return over
}

// fetch reads one included file, or records why it can't be had.
func (l *loader) fetch(ask resolve.Ask, chain []string) *source.File {
	clean, how := inside(ask.At.File.Path, ask.Path)
	if how != "" {
		l.fault("include/outside", ask.At, ask.Path, how)
		return nil
	}
	if slices.Contains(chain, clean) {
		l.fault("include/cycle", ask.At, append(slices.Clone(chain), clean)...)
		return nil
	}
	if len(l.taken) >= MaxIncludes || len(chain) >= MaxDepth {
		if !l.full {
			l.full = true
			l.faults = append(l.faults, source.Fault{Name: "file/too-large", At: ask.At, Words: []string{"includes"}, Counts: []int{len(l.taken) + 1, MaxIncludes}})
		}
		return nil
	}
	raw, err := library.ReadFile(l.lib.fsys, clean, MaxFile+1)
	if err != nil {
		if leaves(err) {
			l.fault("include/outside", ask.At, ask.Path, "link")
		} else {
			l.fault("include/missing", ask.At, ask.Path, l.near(ask.At.File.Path, clean))
		}
		return nil
	}
	return source.New(l.lib.shown(clean), clean, raw)
}

func (l *loader) fault(name string, at source.Span, words ...string) {
	l.faults = append(l.faults, source.Fault{Name: name, At: at, Words: words})
}

// leaves tells whether an open failed because a link leads out of the library.
func leaves(err error) bool {
	return err != nil && strings.Contains(err.Error(), "path escapes")
}

// near offers a file of the same folder with nearly the name, as it would be written in the file at from.
func (l *loader) near(from, name string) string {
	entries, err := fs.ReadDir(l.lib.fsys, path.Dir(name))
	if err != nil {
		return ""
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	found := verb.Near(path.Base(name), names)
	if found == "" {
		return ""
	}
	full, dir := path.Join(path.Dir(name), found), path.Dir(from)
	if rest, ok := strings.CutPrefix(full, dir+"/"); ok {
		return rest
	}
	return full
}

// figures reads the pictures of a procedure into the model and records those that can't be used.
func (l *loader) figures(p *procedure.Procedure) []source.Fault {
	before := len(l.faults)
	l.bytes, l.pixels = 0, 0
	known := map[string]*loaded{} // a picture that is shown at many steps is read once
	for _, f := range p.Figures() {
		l.figure(f, known)
	}
	found := slices.Clone(l.faults[before:])
	l.faults = l.faults[:before]
	return found
}

// loaded is a picture that was read for a procedure, or the fault for which it can't be used.
type loaded struct {
	raw   []byte
	kind  string
	fault source.Fault
}

func (l *loader) figure(f *procedure.Figure, known map[string]*loaded) {
	f.File, f.Data, f.Type = "", nil, ""
	at := f.Path.At
	clean, how := inside(at.File.Path, f.Path.Value)
	if how != "" {
		l.fault("figure/outside", at, f.Path.Value, how)
		return
	}
	p := known[clean]
	if p == nil {
		p = l.picture(clean, f.Path.Value, at.File.Path)
		known[clean] = p
	}
	if p.fault.Name != "" {
		fault := p.fault
		fault.At = at
		l.faults = append(l.faults, fault)
		return
	}
	f.File, f.Data, f.Type = clean, p.raw, p.kind
}

// picture reads one picture, written so in the file at from. What all pictures of a procedure come to has a limit too.
func (l *loader) picture(clean, written, from string) *loaded {
	fault := func(name string, counts []int, words ...string) *loaded {
		return &loaded{fault: source.Fault{Name: name, Words: words, Counts: counts}}
	}
	raw, err := library.ReadFile(l.lib.fsys, clean, MaxFigure+1)
	switch {
	case leaves(err):
		return fault("figure/outside", nil, written, "link")
	case err != nil:
		return fault("figure/missing", nil, written, l.near(from, clean))
	case len(raw) > MaxFigure:
		return fault("file/too-large", []int{len(raw), MaxFigure}, "bytes in the picture")
	}
	p := l.lib.pictures.of(clean, raw)
	switch {
	case p.why != "":
		return fault("figure/not-an-image", nil, written, p.why)
	case p.many != "":
		return fault("file/too-large", []int{p.is, p.of}, p.many)
	}
	l.bytes, l.pixels = l.bytes+len(raw), l.pixels+p.pixels
	switch {
	case l.bytes > MaxFigures:
		return fault("file/too-large", []int{l.bytes, MaxFigures}, "bytes in all pictures")
	case l.pixels > MaxAllDots:
		return fault("file/too-large", []int{l.pixels, MaxAllDots}, "pixels in all pictures")
	}
	return &loaded{raw: raw, kind: p.kind}
}
