package wire

import (
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"refitcard/compiler/editor"
	"refitcard/compiler/library"
	"refitcard/compiler/source"
)

// The limits on what is held open at once.
const (
	mostOpen  = 2000
	mostTexts = 256 << 20 // bytes, when one more is opened
)

// doc finds an open document by its URI.
func (s *Server) doc(uri string) *document {
	for _, d := range s.docs {
		if d.uri == uri {
			return d
		}
	}
	return nil
}

// uri gives the URI of a file of a library: the one by which the editor knows it where it is open.
func (s *Server) uri(of *shelf, path string) string {
	for _, d := range s.docs {
		if d.shelf == of && d.path == path {
			return d.uri
		}
	}
	return uriOf(of.root, path)
}

// opened takes a document on. One that is open already gets the new text.
func (s *Server) opened(m message) *Failure {
	var p openParams
	if bad := m.read(&p); bad != nil {
		return bad
	}
	if s.doc(p.TextDocument.URI) != nil {
		s.drop(p.TextDocument.URI)
	}
	held := len(p.TextDocument.Text)
	for _, o := range s.docs {
		held += len(o.file.Text)
	}
	if len(s.docs) >= mostOpen || held > mostTexts {
		s.show(2, "%d documents are open, which is all that is held: %s is not checked; close some and open it again", len(s.docs), p.TextDocument.URI)
		return nil
	}
	d := &document{uri: p.TextDocument.URI, version: p.TextDocument.Version, stale: true}
	s.locate(d)
	for _, o := range s.docs {
		if o.shelf == d.shelf && o.path == d.path { // the same file by another spelling of its URI
			s.drop(o.uri)
			s.locate(d)
			break
		}
	}
	d.set([]byte(p.TextDocument.Text))
	s.docs = append(s.docs, d)
	s.put(d)
	s.spoil(d.shelf) // what it was missed by may find it now
	return nil
}

// locate finds the library of a document. Documents that lie nowhere are libraries of their own.
func (s *Server) locate(d *document) {
	file, ok := fileOf(d.uri)
	if !ok {
		d.shelf, d.path = &shelf{Shelf: editor.NewShelf(nothing{})}, "untitled.md"
		return
	}
	root := s.host.Root(file)
	rel, err := filepath.Rel(root, file)
	if err != nil || strings.HasPrefix(rel, "..") {
		root, rel = filepath.Dir(file), filepath.Base(file)
	}
	d.path = filepath.ToSlash(rel)
	if d.shelf = s.shelves[root]; d.shelf != nil {
		return
	}
	var fsys fs.FS = nothing{}
	if below, err := s.host.Open(root); err == nil {
		fsys = below
	}
	d.shelf = &shelf{editor.NewShelf(fsys), root}
	s.shelves[root] = d.shelf
}

// nothing is a folder without files.
type nothing struct{}

func (nothing) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

// put lays the text of a document over the disk and marks what depends on it.
func (s *Server) put(d *document) {
	s.turn++
	d.stale, d.turn = true, s.turn
	if d.shelf.Put(d.path, d.raw()) {
		s.spoil(d.shelf)
		return
	}
	for _, o := range s.docs {
		if o.shelf == d.shelf && o.result != nil && slices.ContainsFunc(o.result.Proc.Sources, func(f *source.File) bool { return f.Path == d.path }) {
			o.stale = true
		}
	}
}

// spoil marks all documents of a library.
func (s *Server) spoil(of *shelf) {
	for _, d := range s.docs {
		d.stale = d.stale || d.shelf == of
	}
}

func (s *Server) changed(m message) *Failure {
	var p changeParams
	if bad := m.read(&p); bad != nil {
		return bad
	}
	d := s.doc(p.TextDocument.URI)
	if d == nil {
		return &Failure{invalidParams, "the document is not open"}
	}
	lost := d.lost
	d.apply(p.ContentChanges, s.scale)
	if p.TextDocument.Version != nil {
		d.version = *p.TextDocument.Version
	}
	if d.lost && !lost {
		s.show(2, "%s has grown beyond %d bytes and is not checked any more; open it anew when it is smaller", d.path, mostText)
	}
	s.put(d)
	return nil
}

func (s *Server) closed(m message) *Failure {
	var p documentParams
	if bad := m.read(&p); bad != nil {
		return bad
	}
	s.drop(p.TextDocument.URI)
	return nil
}

// drop gives a document up, and its library when that was its last one.
func (s *Server) drop(uri string) {
	d := s.doc(uri)
	if d == nil {
		return
	}
	s.docs = slices.DeleteFunc(s.docs, func(o *document) bool { return o == d })
	s.touch(d)
	s.affected[d.uri] = true
	d.shelf.Drop(d.path)
	s.spoil(d.shelf)
	if d.shelf.root != "" && !slices.ContainsFunc(s.docs, func(o *document) bool { return o.shelf == d.shelf }) {
		delete(s.shelves, d.shelf.root)
	}
}

// saved looks at the library anew: others may have written there too.
func (s *Server) saved(m message) *Failure {
	var p documentParams
	if bad := m.read(&p); bad != nil {
		return bad
	}
	if d := s.doc(p.TextDocument.URI); d != nil {
		d.shelf.Renew()
		s.spoil(d.shelf)
	}
	return nil
}

// watched looks at all libraries anew; where settings came or went, documents may belong to another one.
func (s *Server) watched(m message) *Failure {
	var p struct {
		Changes []location `json:"changes"`
	}
	if bad := m.read(&p); bad != nil {
		return bad
	}
	for _, d := range s.docs {
		d.shelf.Renew()
		d.stale = true
	}
	if slices.ContainsFunc(p.Changes, func(c location) bool { return strings.HasSuffix(c.URI, "/"+library.File) }) {
		s.settle()
	}
	return nil
}

// settle finds the library of every document anew.
func (s *Server) settle() {
	for _, d := range s.docs {
		s.touch(d)
		d.shelf.Drop(d.path)
	}
	s.shelves = map[string]*shelf{}
	for _, d := range s.docs {
		text := d.raw()
		d.result, d.views, d.touches, d.desk = nil, nil, nil, nil
		s.locate(d)
		d.set(text)
		s.put(d)
	}
}
