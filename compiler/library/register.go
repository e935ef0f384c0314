package library

import (
	"bytes"
	"io/fs"
	"path"
	"strings"

	"refitcard/compiler/keys"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// ReadRegister looks over the front matter of every procedure of a library. A file that can't be read is left out: it has
// findings of its own.
func ReadRegister(fsys fs.FS, verbs *verb.Table) *Register {
	r := &Register{}
	// The error of a folder that can't be read is that of the files in it.
	_ = fs.WalkDir(fsys, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			return nil
		}
		if e.IsDir() {
			if name != "." && strings.HasPrefix(e.Name(), ".") {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.EqualFold(path.Ext(name), ".md") {
			return nil
		}
		raw, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil
		}
		if e, ok := Enter(name, raw, verbs); ok {
			r.Entries = append(r.Entries, e)
		}
		return nil
	})
	return r
}

// Enter reads what a procedure says of itself. ok is false for a file that does not begin with front matter: it is nobody's procedure.
func Enter(name string, raw []byte, verbs *verb.Table) (e Entry, ok bool) {
	front := Front(raw)
	if front == nil {
		return Entry{}, false
	}
	return entry(syntax.Parse(source.New(name, name, front), verbs)), true
}

// Front gives the head of a file in which its front matter stands, all of it where it does not end; nil for a file that begins
// otherwise.
func Front(raw []byte) []byte {
	if !bytes.HasPrefix(bytes.TrimPrefix(raw, []byte("\ufeff")), []byte("---")) {
		return nil
	}
	if end := bytes.Index(raw[3:], []byte("\n---")); end > 0 {
		return raw[:3+end+4]
	}
	return raw
}

func entry(t *syntax.Tree) Entry {
	e := Entry{Path: t.File.Path, File: t.File}
	if n, ok := t.Front.Get("number"); ok {
		e.Number, e.NumberAt = n.Value.Text, n.Value.At
	}
	e.After, e.Then = list(t.Front, "after"), list(t.Front, "then")
	e.Starts, e.Leaves = list(t.Front, "starts"), list(t.Front, "leaves")
	return e
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

// Numbered finds the entries with a number, without regard to case.
func (r *Register) Numbered(number string) []Entry {
	var found []Entry
	if r != nil {
		for _, e := range r.Entries {
			if strings.EqualFold(e.Number, number) {
				found = append(found, e)
			}
		}
	}
	return found
}

// Numbers lists the numbers of all entries, in order.
func (r *Register) Numbers() []string {
	var all []string
	for _, e := range r.Entries {
		all = append(all, e.Number)
	}
	return all
}
