// Package tidy writes a procedure down in one way: keys in one order, tables aligned, steps counted, tags and units spelt alike.
// It makes edits of the text and never prints the tree anew, so that what it does not know stays byte for byte.
package tidy

import (
	"bytes"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// maxRounds bounds how often tidying begins anew. One round nearly always does; a change of the layout may bring another to
// light, such as a list that two lists of different marks become.
const maxRounds = 6

// maxTries bounds how often the proof is asked in a round. The proof is a compile, and a file on which hundreds of edits are refused
// one by one is none that somebody wrote.
const maxTries = 100

// group is edits that belong together: made all or none.
type group []diag.Edit

// tidier is one file under work.
type tidier struct {
	file *source.File
	tree *syntax.Tree
	eol  string
	all  []group
}

// Text gives a file, as it was read, in the one layout. keeps tells whether a text still means what the first one meant: an
// edit that it refuses is left out. The byte order mark and the kind of line ends stay.
func Text(name string, raw []byte, verbs *verb.Table, keeps func(text []byte) bool) []byte {
	now := raw
	for range maxRounds {
		f := source.New(name, name, now)
		next := settle(f, edits(f, verbs), keeps)
		if bytes.Equal(next, now) {
			break
		}
		now = next
	}
	return now
}

// edits gives all that is to be changed in a file.
func edits(f *source.File, verbs *verb.Table) []group {
	t := &tidier{file: f, tree: syntax.Parse(f, verbs), eol: "\n"}
	if bytes.Contains(f.Text, []byte("\r\n")) {
		t.eol = "\r\n"
	}
	t.front()
	t.tables()
	t.lists()
	t.tags()
	t.bullets()
	t.quotes()
	t.lines()
	return t.all
}

// settle makes the edits that keep the meaning: all at once where that does, else what is left when the culprits are out.
func settle(f *source.File, groups []group, keeps func([]byte) bool) []byte {
	raw := diag.Apply(f, nil)
	if len(groups) == 0 {
		return raw
	}
	var kept []group
	tries := 0
	var try func(some []group)
	try = func(some []group) {
		if tries++; len(some) == 0 || tries > maxTries {
			return
		}
		if keeps(diag.Apply(f, slices.Concat(slices.Concat(kept, some)...))) {
			kept = append(kept, some...)
			return
		}
		if len(some) > 1 {
			try(some[:len(some)/2])
			try(some[len(some)/2:])
		}
	}
	try(groups)
	return diag.Apply(f, slices.Concat(kept...))
}

// add takes edits in that change something.
func (t *tidier) add(list ...diag.Edit) {
	list = slices.DeleteFunc(list, func(e diag.Edit) bool { return e.At.Text() == e.Text })
	if len(list) > 0 {
		t.all = append(t.all, list)
	}
}

// put is one edit that puts text in place of the bytes from start to end.
func (t *tidier) put(start, end int, text string) diag.Edit {
	return diag.Edit{At: t.file.At(start, end), Text: text}
}

// inlines calls f for every piece of running text of a block, quotes too.
func inlines(b syntax.Block, f func(syntax.Inline)) {
	var text []syntax.Inline
	switch b := b.(type) {
	case *syntax.Paragraph:
		text = b.Text
	case *syntax.Quote:
		text = b.Text
	}
	for _, n := range text {
		f(n)
	}
}

// isSection tells whether a section is the one of that name.
func isSection(s *syntax.Section, names ...string) bool {
	return s != nil && slices.Contains(names, strings.ToLower(s.Title))
}

// Broken gives what keeps a file from being read as meant, so that it is left alone: the fault's name and its place. ok is false for a
// file that can be tidied.
func Broken(tree *syntax.Tree) (fault source.Fault, ok bool) {
	for _, f := range tree.Faults {
		switch f.Name {
		case "file/not-text", "file/too-large", "tag/unclosed":
			return f, true
		case "file/bad-value":
			if tree.Front == nil || len(tree.Front.Entries) == 0 {
				return f, true
			}
		}
	}
	return source.Fault{}, false
}
