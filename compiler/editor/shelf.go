package editor

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"sync"

	"refitcard/compiler"
	"refitcard/compiler/library"
	"refitcard/compiler/rules"
)

// Shelf is one library as its writer sees it: the files on the disk, and over them the texts that are being written. It belongs
// to one goroutine; what it hands out to a compile does not change any more.
type Shelf struct {
	disk  *disk
	texts map[string][]byte // of open documents, by path

	lib      *compiler.Library // nil: to be opened anew
	register *library.Register // nil: to be read anew
}

// NewShelf makes the shelf of the library whose root is fsys.
func NewShelf(fsys fs.FS) *Shelf {
	return &Shelf{disk: &disk{files: fsys, kept: map[string]kept{}}, texts: map[string][]byte{}}
}

// Put lays an open text over the file at path. wide tells that other procedures of the library may be judged otherwise for it.
// The text must not be written to afterwards.
func (s *Shelf) Put(path string, text []byte) (wide bool) {
	was, open := s.texts[path]
	if !open {
		was, _ = fs.ReadFile(s.disk, path)
	}
	s.texts[path] = text
	return s.turned(path, was, text)
}

// Drop takes the open text away: the file on the disk counts again.
func (s *Shelf) Drop(path string) (wide bool) {
	was := s.texts[path]
	delete(s.texts, path)
	now, _ := fs.ReadFile(s.disk, path)
	return s.turned(path, was, now)
}

// turned takes note of a changed text: settings are read anew, and of the register the one entry.
func (s *Shelf) turned(path string, was, now []byte) (wide bool) {
	if s.lib == nil {
		return true
	}
	if path == library.File || slices.Contains(s.lib.Settings().Files(), path) {
		s.lib, s.register = nil, nil
		return true
	}
	if s.lib.Settings().File == nil || bytes.Equal(library.Front(was), library.Front(now)) {
		return false
	}
	s.enter(path, now)
	return true
}

// enter renews what the register says of one file.
func (s *Shelf) enter(path string, now []byte) {
	if s.register == nil {
		return
	}
	entry, ok := library.Enter(path, now)
	i := slices.IndexFunc(s.register.Entries, func(e library.Entry) bool { return e.Path == path })
	entries := slices.Clone(s.register.Entries)
	switch {
	case ok && i >= 0:
		entries[i] = entry
	case i >= 0:
		entries = slices.Delete(entries, i, i+1)
	case ok:
		s.register = nil // where it stands among the others, a walk over the folder tells
		return
	}
	s.register = library.NewRegister(entries)
}

// Renew forgets what was read from the disk: something there has changed.
func (s *Shelf) Renew() {
	s.disk.forget()
	s.lib, s.register = nil, nil
}

// Library gives the library with the open texts as they are now, for any number of compiles.
func (s *Shelf) Library() *compiler.Library {
	over := overlay{s.disk, maps.Clone(s.texts)}
	if s.lib == nil {
		s.lib = compiler.Open(over, func(path string) string { return path })
	}
	if s.register == nil && s.lib.Settings().File != nil {
		s.register = library.ReadRegister(over)
	}
	register := s.register
	return s.lib.Over(over, func() *library.Register { return register })
}

// Compile compiles the file at path as it is now.
func (s *Shelf) Compile(path string) (compiler.Result, error) {
	return s.Library().Compile(path, rules.Options{})
}

// Read gives the text at path as it is now.
func (s *Shelf) Read(path string) ([]byte, error) {
	return fs.ReadFile(overlay{s.disk, s.texts}, path)
}

// Procedures lists the paths of all files in the library that are written in Markdown, open ones too.
func (s *Shelf) Procedures() []string {
	var all []string
	// The error of a folder that can't be read is that of the files in it.
	_ = fs.WalkDir(overlay{s.disk, s.texts}, ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
		case e.IsDir() && name != "." && name[0] == '.':
			return fs.SkipDir
		case !e.IsDir() && path.Ext(name) == ".md":
			all = append(all, name)
		}
		return nil
	})
	for name := range s.texts {
		if !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	slices.Sort(all)
	return all
}

// overlay is a folder in which some files hold other text than on the disk, or stand there only.
type overlay struct {
	fs.FS
	texts map[string][]byte
}

// Open opens a file as it is being written, else as it is on the disk.
func (o overlay) Open(name string) (fs.File, error) {
	if text, ok := o.texts[name]; ok {
		return inMemory{bytes.NewReader(text), written{name, int64(len(text))}}, nil
	}
	return o.FS.Open(name)
}

// mostKept bounds the bytes of files that are kept in memory; what goes beyond is read each time.
const mostKept = 64 << 20

// disk is a folder whose files are read once for as long as they stay as they are.
type disk struct {
	files fs.FS

	mu   sync.Mutex
	kept map[string]kept
	size int
}

// kept is a file as it was read.
type kept struct {
	info fs.FileInfo
	text []byte
}

func (d *disk) forget() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.kept, d.size = map[string]kept{}, 0
}

// Open gives a file from memory when it is still as it was read: of the same time and size.
func (d *disk) Open(name string) (fs.File, error) {
	info, err := fs.Stat(d.files, name)
	switch {
	case err != nil || info.IsDir():
		return d.files.Open(name)
	case !info.Mode().IsRegular(): // to open a pipe would wait for ever
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("is no file")}
	}
	d.mu.Lock()
	k, ok := d.kept[name]
	d.mu.Unlock()
	if ok && k.info.ModTime().Equal(info.ModTime()) && k.info.Size() == info.Size() {
		return inMemory{bytes.NewReader(k.text), k.info}, nil
	}
	return d.read(name)
}

// read reads a file and keeps it. One that is too large for any use is not read whole: its reader says so.
func (d *disk) read(name string) (fs.File, error) {
	f, err := d.files.Open(name)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil || info.Size() > compiler.MaxFigure {
		return f, err
	}
	defer f.Close()
	text, err := io.ReadAll(f)
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.size -= len(d.kept[name].text)
	delete(d.kept, name)
	if d.size+len(text) <= mostKept {
		d.kept[name] = kept{info, text}
		d.size += len(text)
	}
	return inMemory{bytes.NewReader(text), info}, nil
}
