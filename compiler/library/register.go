package library

import (
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
		if err != nil || !strings.HasPrefix(strings.TrimPrefix(string(raw[:min(len(raw), 6)]), "\ufeff"), "---") {
			return nil
		}
		if end := strings.Index(string(raw[3:]), "\n---"); end > 0 {
			raw = raw[:3+end+4] // the register needs the front matter alone
		}
		r.Entries = append(r.Entries, entry(syntax.Parse(source.New(name, name, raw), verbs)))
		return nil
	})
	return r
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
