package compiler

import (
	"bytes"

	"refitcard/compiler/library"
	"refitcard/compiler/resolve"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// Desk compiles one file again and again while it is being written. A letter typed within a step costs no more than that step, the
// play and the checks: the rest of the file is kept as it was understood. A Desk serves one compile at a time.
type Desk struct {
	path string
	kept *kept
}

// kept is one compile with all that the next one may build on.
type kept struct {
	lib   *Library
	load  loader
	main  *syntax.Tree
	work  *resolve.Work
	trees []*syntax.Tree
	job   *rules.Job // what was judged last

	fresh map[*syntax.Item]bool // entries that were read anew: the words of each hold the whole text of their time in memory
}

// mostHeld bounds the memory for texts of which only steps are still in use; then all is compiled anew.
const mostHeld = 64 << 20

// NewDesk makes a desk for the file at path.
func NewDesk(path string) *Desk { return &Desk{path: path} }

// Begin takes in the file's text as it is now, and gives what remains to be done for the result, which may be done on another goroutine.
// It changes the model of the result before, whose places are then those in the new text. What is done must be done before Begin
// is called again.
func (d *Desk) Begin(l *Library, raw []byte, opt rules.Options) (compile func() Result) {
	if k := d.kept; k != nil && len(k.fresh)*len(raw) < mostHeld && k.lib.settings == l.settings && k.lib.memory == l.memory && k.retype(l, raw) {
		return func() Result { return k.judge(l, opt) }
	}
	return func() Result {
		d.kept = l.read(d.path, raw)
		return d.kept.judge(l, opt)
	}
}

// retype takes in a text that differs from the last one within one step. If it gives false nothing of an earlier result has changed.
func (k *kept) retype(l *Library, raw []byte) bool {
	if len(k.load.faults) > 0 || !k.sameIncludes(l) {
		return false
	}
	was := *k.main.File
	typed, ok := k.main.Retype(raw, l.settings.Verbs)
	if ok && k.work.Renew(typed) {
		k.lib, k.load.lib = l, l
		delete(k.fresh, typed.Was)
		k.fresh[typed.Now] = true
		return true
	}
	*k.main.File = was
	return false
}

// sameIncludes tells whether the included files are as they were.
func (k *kept) sameIncludes(l *Library) bool {
	for _, i := range k.load.taken {
		raw, err := library.ReadFile(l.fsys, i.Tree.File.Path, MaxFile+1)
		if err != nil || !bytes.Equal(raw, i.Tree.File.Raw()) {
			return false
		}
	}
	return true
}

// read reads a file with those that it includes, and makes the model.
func (l *Library) read(path string, raw []byte) *kept {
	k := &kept{lib: l, load: loader{lib: l}, fresh: map[*syntax.Item]bool{}}
	k.main = syntax.Parse(source.New(l.shown(path), path, raw), l.settings.Verbs)
	k.load.size = k.main.Size()
	k.load.include(k.main, []string{path})
	k.work = resolve.Begin(resolve.Input{Main: k.main, Includes: k.load.taken, Settings: l.settings, Memory: l.memory})
	k.trees = []*syntax.Tree{k.main}
	for _, t := range k.load.taken {
		k.trees = append(k.trees, t.Tree)
	}
	return k
}
