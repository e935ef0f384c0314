// Package editor answers what an editor would ask of a procedure: what stands here, where is it declared, what may be written,
// how is it called anew, what mends this. Every answer is a pure function of one compile; the protocol is spoken elsewhere.
package editor

import (
	"slices"
	"sync"

	"refitcard/compiler"
	"refitcard/compiler/assembly"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
)

// View is one compile, looked at from one of its files: the procedure itself or one that it includes.
type View struct {
	Result compiler.Result
	File   *source.File

	// Beside lists the paths, from the library's root, of the files that may be included; nil where nobody knows.
	Beside func() []string

	trees func(*source.File) *syntax.Tree
	names func() []Use
}

// Look makes the view of a compile from the file at path. ok is false when the compile did not read that file.
func Look(r compiler.Result, path string) (v *View, ok bool) {
	i := slices.IndexFunc(r.Proc.Sources, func(f *source.File) bool { return f.Path == path })
	if i < 0 {
		return nil, false
	}
	v = &View{Result: r, File: r.Proc.Sources[i]}
	kept := map[*source.File]*syntax.Tree{}
	v.trees = func(f *source.File) *syntax.Tree {
		if kept[f] == nil {
			kept[f] = syntax.Parse(f, r.Settings.Verbs)
		}
		return kept[f]
	}
	v.names = sync.OnceValue(func() []Use { return v.uses() })
	return v, true
}

// plays plays the job with a picture of the machine after every step. In a long job the pictures are large: they are not kept.
func (v *View) plays() []assembly.Play {
	return assembly.PlayAll(v.Result.Proc, v.Result.Settings.Verbs, nil, true)
}

// tree is the file that is looked at, as it was written.
func (v *View) tree() *syntax.Tree { return v.trees(v.File) }

// at tells whether a place of the file that is looked at holds an offset, its end included.
func (v *View) at(s source.Span, offset int) bool {
	return s.File == v.File && s.Start <= offset && offset <= s.End
}
