package library

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"unicode"

	"refitcard/compiler/keys"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// ReadRegister looks over the front matter of every procedure of a library, several at once. A file that can't be read is left
// out: it has findings of its own.
func ReadRegister(fsys fs.FS) *Register {
	var names []string
	// The error of a folder that can't be read is that of the files in it.
	_ = fs.WalkDir(fsys, ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
		case e.IsDir() && name != "." && strings.HasPrefix(e.Name(), "."):
			return fs.SkipDir
		case !e.IsDir() && strings.EqualFold(path.Ext(name), ".md") && isFile(fsys, name, e):
			names = append(names, name)
		}
		return nil
	})
	found := make([]*Entry, len(names))
	var next atomic.Int64
	var readers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(names)) {
		readers.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(names)); i = next.Add(1) - 1 {
				found[i] = readEntry(fsys, names[i])
			}
		})
	}
	readers.Wait()
	var entries []Entry
	for _, e := range found {
		if e != nil {
			entries = append(entries, *e)
		}
	}
	return NewRegister(entries)
}

// NewRegister makes a register of entries, in their order.
func NewRegister(entries []Entry) *Register {
	r := &Register{Entries: entries, numbered: map[string][]Entry{}}
	for _, e := range entries {
		key := sameCase(e.Number)
		r.numbered[key] = append(r.numbered[key], e)
	}
	return r
}

// isFile tells whether an entry of a folder is a file, or a link to one: to open a pipe could wait for ever.
func isFile(fsys fs.FS, name string, e fs.DirEntry) bool {
	if e.Type()&fs.ModeSymlink == 0 {
		return e.Type().IsRegular()
	}
	info, err := fs.Stat(fsys, name)
	return err == nil && info.Mode().IsRegular()
}

// readEntry reads what one file says of itself, nil for a file that is no procedure.
func readEntry(fsys fs.FS, name string) *Entry {
	raw := readHead(fsys, name)
	if raw == nil {
		return nil
	}
	e := entry(name, raw)
	return &e
}

// Enter reads what a procedure says of itself. ok is false for a file that does not begin with front matter: it is nobody's procedure.
func Enter(name string, raw []byte) (e Entry, ok bool) {
	front := Front(raw)
	if front == nil {
		return Entry{}, false
	}
	return entry(name, front), true
}

// Front gives the head of a file in which its front matter stands, all of it where it does not end; nil for a file that begins
// otherwise.
func Front(raw []byte) []byte {
	if !begins(raw) {
		return nil
	}
	head, _ := cut(raw)
	return head
}

// cut takes a file that begins with front matter off behind its end; ok is false where that does not stand in it.
func cut(raw []byte) (head []byte, ok bool) {
	if end := bytes.Index(raw[3:], []byte("\n---")); end > 0 {
		return raw[:3+end+4], true
	}
	return raw, false
}

// begins tells whether a file begins with front matter.
func begins(raw []byte) bool {
	return bytes.HasPrefix(bytes.TrimPrefix(raw, []byte("\ufeff")), []byte("---"))
}

func entry(name string, head []byte) Entry {
	f := source.New(name, name, head)
	front := syntax.Front(f)
	e := Entry{Path: f.Path, File: f}
	if n, ok := front.Get("number"); ok {
		e.Number, e.NumberAt = n.Value.Text, n.Value.At
	}
	e.After, e.Then = list(front, "after"), list(front, "then")
	e.Starts, e.Leaves = list(front, "starts"), list(front, "leaves")
	return e
}

// headSize is how many bytes of a file are read first, and nearly every front matter is shorter; mostHead how many at most: a
// longer file is refused for its size.
const (
	headSize = 2 << 10
	mostHead = 2 << 20
)

// readHead reads a file up to the end of its front matter; nil when it begins with none, or can't be read.
func readHead(fsys fs.FS, name string) []byte {
	f, err := fsys.Open(name)
	if err != nil {
		return nil
	}
	defer f.Close()
	var raw []byte
	for {
		from := len(raw)
		more := max(from, headSize)
		raw = slices.Grow(raw, more)[:from+more]
		n, err := io.ReadFull(f, raw[from:])
		raw = raw[:from+n]
		if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
			return nil
		}
		if from == 0 && !begins(raw) {
			return nil
		}
		if head, ok := cut(raw); ok {
			return bytes.Clone(head) // the register needs the front matter alone
		}
		if err != nil || len(raw) > mostHead {
			return raw
		}
	}
}

// list gives the texts of a key that holds one value or several.
func list(m *keys.Map, key string) []string {
	e, ok := m.Get(key)
	if !ok {
		return nil
	}
	if e.Value.Kind == keys.Scalar {
		return []string{e.Value.Text}
	}
	var all []string
	for _, v := range e.Value.List {
		all = append(all, v.Text)
	}
	return all
}

// Numbered finds the entries with a number, without regard to case. They are only to be read.
func (r *Register) Numbered(number string) []Entry {
	if r == nil {
		return nil
	}
	return r.numbered[sameCase(number)]
}

// sameCase writes texts that strings.EqualFold holds for equal in one way: each letter as the first of those that fold into it.
func sameCase(s string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for f := unicode.SimpleFold(r); f != r; f = unicode.SimpleFold(f) {
			least = min(least, f)
		}
		return least
	}, s)
}

// Numbers lists the numbers of all entries, in order.
func (r *Register) Numbers() []string {
	var all []string
	for _, e := range r.Entries {
		all = append(all, e.Number)
	}
	return all
}
