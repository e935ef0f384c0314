package compiler

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	_ "image/jpeg" // figures are JPEG
	_ "image/png"  // or PNG
	"io/fs"
	"path"
	"slices"
	"strings"

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
	full   bool // the limit on includes was met and said once
}

// include takes in the files that a tree asks for, and those that they ask for in turn. chain is the way there.
func (l *loader) include(tree *syntax.Tree, chain []string) {
	for _, ask := range resolve.Includes(tree) {
		file := l.fetch(ask, chain)
		if file == nil {
			continue
		}
		sub := syntax.Parse(file, l.lib.settings.Verbs)
		l.taken = append(l.taken, resolve.Included{Tree: sub, At: ask.At})
		l.include(sub, append(slices.Clone(chain), file.Path))
	}
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
	raw, err := read(l.lib.fsys, clean, MaxFile+1)
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
	for _, f := range p.Figures() {
		l.figure(f)
	}
	found := slices.Clone(l.faults[before:])
	l.faults = l.faults[:before]
	return found
}

func (l *loader) figure(f *procedure.Figure) {
	at := f.Path.At
	clean, how := inside(at.File.Path, f.Path.Value)
	if how != "" {
		l.fault("figure/outside", at, f.Path.Value, how)
		return
	}
	raw, err := read(l.lib.fsys, clean, MaxFigure+1)
	switch {
	case leaves(err):
		l.fault("figure/outside", at, f.Path.Value, "link")
		return
	case err != nil:
		l.fault("figure/missing", at, f.Path.Value, l.near(at.File.Path, clean))
		return
	case len(raw) > MaxFigure:
		l.faults = append(l.faults, source.Fault{Name: "file/too-large", At: at, Words: []string{"bytes"}, Counts: []int{len(raw), MaxFigure}})
		return
	}
	kind, err := pictureType(raw)
	if err != nil {
		l.fault("figure/not-an-image", at, f.Path.Value, err.Error())
		return
	}
	f.File, f.Data, f.Type = clean, raw, kind
}

// pictureType tells png, jpeg or svg by what is in the file, and refuses a file whose picture can't be decoded.
func pictureType(raw []byte) (string, error) {
	_, kind, err := image.DecodeConfig(bytes.NewReader(raw))
	if err == nil {
		if _, _, err := image.Decode(bytes.NewReader(raw)); err != nil {
			return "", errors.New("the picture is cut off or damaged")
		}
		return kind, nil
	}
	d := xml.NewDecoder(bytes.NewReader(raw))
	for {
		token, err := d.Token()
		if err != nil {
			return "", errors.New("it is no PNG, JPEG or SVG")
		}
		if start, ok := token.(xml.StartElement); ok {
			if start.Name.Local == "svg" {
				return "svg", nil
			}
			return "", errors.New("it is no PNG, JPEG or SVG")
		}
	}
}
