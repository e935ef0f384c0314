package wire

import (
	"net/url"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"refitcard/compiler"
	"refitcard/compiler/editor"
	"refitcard/compiler/library"
	"refitcard/compiler/source"
)

// mostText bounds the text of one open document: JSON brings no more in one message.
const mostText = mostFrame

// document is one that is open in the editor.
type document struct {
	uri     string
	shelf   *shelf
	path    string // from the root of its library
	version int
	file    *source.File // its text
	lost    bool         // it grew beyond all limits: its text is not known any more

	turn    int  // when it was changed last
	stale   bool // its text, or one that it depends on, is newer than its result
	skipped int  // how often a result was passed over for a newer text
	desk    *compiler.Desk
	result  *compiler.Result
	views   map[string]*editor.View // of the result, by path
	files   map[*source.File]bool   // that its result tells of
	speaks  bool                    // its findings are shown
	touches []string                // the URIs of the files that its result tells of
	under   chan outcome            // a compile that takes too long, nil for none
}

// shelf is a library with its place on this machine.
type shelf struct {
	*editor.Shelf
	root string // its folder; empty for documents that lie nowhere
}

// outcome is what a compile came to.
type outcome struct {
	result compiler.Result
	of     *source.File // the text that was compiled
	panic  any          // what the program stumbled over, nil for nothing
}

// raw is the text of a document, byte for byte.
func (d *document) raw() []byte { return d.file.Raw() }

// isProcedure tells whether a document is compiled by itself: it begins with front matter. Others only matter to those that include
// them.
func (d *document) isProcedure() bool {
	return !d.lost && d.isMarkdown() && library.Front(d.file.Text) != nil
}

func (d *document) isMarkdown() bool { return strings.EqualFold(path.Ext(d.path), ".md") }

// set gives a document a text.
func (d *document) set(text []byte) {
	if len(text) > mostText {
		d.lost, text = true, nil
	}
	d.file = source.New(d.path, d.path, text)
}

// apply makes the changes of one message, in order.
func (d *document) apply(changes []change, s scale) {
	for _, c := range changes {
		if c.Range == nil {
			d.lost = false
			d.set([]byte(c.Text))
			continue
		}
		if d.lost {
			continue
		}
		r := ruler{d.file, s, d.file.Mark > 0}
		from, to := r.raw(c.Range.Start), r.raw(c.Range.End)
		if from > to {
			from, to = to, from
		}
		was := d.raw()
		d.set(slices.Concat(was[:from], []byte(c.Text), was[to:]))
	}
}

// raw gives the offset of a place in the text with its byte order mark.
func (r ruler) raw(p position) int {
	if p.Line <= 0 && p.Character < r.lead(0) {
		return 0
	}
	return r.offset(p) + r.file.Mark
}

// fileOf gives the path on this machine that a URI means; ok is false for one that lies nowhere.
func fileOf(uri string) (file string, ok bool) {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" || u.Path == "" || strings.ContainsRune(u.Path, 0) {
		return "", false
	}
	name := u.Path
	if len(name) > 2 && name[0] == '/' && name[2] == ':' { // a drive letter
		name = name[1:]
	}
	name = filepath.FromSlash(name)
	return filepath.Clean(name), filepath.IsAbs(name)
}

// uriOf gives the URI of a file of a library.
func uriOf(root, path string) string {
	name := filepath.ToSlash(filepath.Join(root, filepath.FromSlash(path)))
	if !strings.HasPrefix(name, "/") {
		name = "/" + name
	}
	return (&url.URL{Scheme: "file", Path: name}).String()
}
