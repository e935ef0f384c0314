package editor

import (
	"bytes"
	"fmt"
	"slices"
	"unicode/utf8"

	"refitcard/compiler"
	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/tidy"
)

// maxRounds bounds how often mending begins anew: a slip that is mended may bring another to light, and no more than a few do.
const maxRounds = 8

// Fix is a fix of one finding, offered at the place of the finding.
type Fix struct {
	Finding diag.Finding
	diag.Fix
}

// Fixes lists the fixes of the findings that touch a piece of the file that is looked at, the safe ones first.
func (v *View) Fixes(from, to int) []Fix {
	var safe, rest []Fix
	for _, f := range v.Result.Findings {
		if f.Waived != "" || f.At.File != v.File || f.At.Start > to || f.At.End < from {
			continue
		}
		for _, x := range f.Fixes {
			if slices.ContainsFunc(x.Edits, func(e diag.Edit) bool { return !e.At.Known() }) || len(x.Edits) == 0 {
				continue
			}
			if x.Safe {
				safe = append(safe, Fix{f, x})
			} else {
				rest = append(rest, Fix{f, x})
			}
		}
	}
	return append(safe, rest...)
}

// Mend makes all safe fixes of one file, and again those that they bring to light. It gives the text as it was and as it is now.
func (s *Shelf) Mend(v *View) (before, now []byte) {
	path := v.File.Path
	before = diag.Apply(v.File, nil)
	now = before
	r := v.Result
	texts := overlay{s.disk, map[string][]byte{}}
	for p, t := range s.texts {
		texts.texts[p] = t
	}
	lib := s.Library()
	lib = lib.Over(texts, lib.Register)
	for range maxRounds {
		var edits []diag.Edit
		var file *source.File
		for _, m := range diag.Safe(r.Findings, func(f *source.File) bool { return f.Path == path }) {
			edits = append(edits, m.Fix.Edits...)
			file = m.Fix.Edits[0].At.File
		}
		if len(edits) == 0 || !bytes.Equal(diag.Apply(file, nil), now) {
			return before, now
		}
		now = diag.Apply(file, edits)
		texts.texts[path] = now
		var err error
		if r, err = lib.Compile(r.Proc.File.Path, rules.Options{}); err != nil {
			return before, now
		}
	}
	return before, now
}

// Tidy writes the file that is looked at in the one layout, where a compile proves that it means the same. The error is a Refusal.
func (s *Shelf) Tidy(v *View) (before, now []byte, err error) {
	before = diag.Apply(v.File, nil)
	if len(before) > compiler.MaxFile {
		return before, before, Refusal(fmt.Sprintf("it has more than %d bytes and is left alone", compiler.MaxFile))
	}
	tree := syntax.Parse(v.File, v.Result.Settings.Verbs)
	if fault, broken := tidy.Broken(tree); broken {
		return before, before, Refusal(fmt.Sprintf("line %d can't be read as meant (%s): mend that first", max(v.File.Line(fault.At.Start), 1), fault.Name))
	}
	path, host := v.File.Path, v.Result.Proc.File.Path
	texts := overlay{s.disk, map[string][]byte{}}
	for p, t := range s.texts {
		texts.texts[p] = t
	}
	lib := s.Library()
	lib = lib.Over(texts, lib.Register)
	old := tidy.Reading{Proc: v.Result.Proc, Plays: v.Result.Plays, Findings: v.Result.Findings}
	now = tidy.Text(path, before, v.Result.Settings.Verbs, func(text []byte) bool {
		texts.texts[path] = text
		r, err := lib.Compile(host, rules.Options{})
		return err == nil && tidy.Differ(old, tidy.Reading{Proc: r.Proc, Plays: r.Plays, Findings: r.Findings}) == ""
	})
	return before, now, nil
}

// Edits gives the changes that make one text out of another, few and small: line by line where the number of lines between the
// first and the last difference stays, else in one piece. The places are in was, which is the text of f with its byte order mark.
func Edits(f *source.File, was, now []byte) []diag.Edit {
	if bytes.Equal(was, now) {
		return nil
	}
	mark := 0
	if f.Mark > 0 && bytes.HasPrefix(was, []byte("\xef\xbb\xbf")) && bytes.HasPrefix(now, []byte("\xef\xbb\xbf")) {
		mark = 3
	}
	a, b := lines(was[mark:]), lines(now[mark:])
	head := 0
	for head < len(a) && head < len(b) && bytes.Equal(a[head], b[head]) {
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && bytes.Equal(a[len(a)-1-tail], b[len(b)-1-tail]) {
		tail++
	}
	at := 0
	for _, l := range a[:head] {
		at += len(l)
	}
	x, y := a[head:len(a)-tail], b[head:len(b)-tail]
	if len(x) != len(y) {
		was, now := slices.Concat(x...), slices.Concat(y...)
		return []diag.Edit{{At: f.At(at, at+len(was)), Text: string(now)}}
	}
	var edits []diag.Edit
	for i := range x {
		if !bytes.Equal(x[i], y[i]) {
			edits = append(edits, narrowed(f, at, x[i], y[i]))
		}
		at += len(x[i])
	}
	return edits
}

// narrowed leaves out what two lines begin and end with alike, whole characters.
func narrowed(f *source.File, at int, was, now []byte) diag.Edit {
	head, tail := 0, 0
	for head < len(was) && head < len(now) && was[head] == now[head] {
		head++
	}
	for head > 0 && (!boundary(was, head) || !boundary(now, head)) {
		head--
	}
	for tail < len(was)-head && tail < len(now)-head && was[len(was)-1-tail] == now[len(now)-1-tail] {
		tail++
	}
	for tail > 0 && (!boundary(was, len(was)-tail) || !boundary(now, len(now)-tail)) {
		tail--
	}
	return diag.Edit{At: f.At(at+head, at+len(was)-tail), Text: string(now[head : len(now)-tail])}
}

// boundary tells whether a character begins at i, and no line end is cut in two there.
func boundary(s []byte, i int) bool {
	return i >= len(s) || utf8.RuneStart(s[i]) && !(s[i] == '\n' && i > 0 && s[i-1] == '\r')
}

// lines cuts a text behind every line feed.
func lines(s []byte) [][]byte {
	if len(s) == 0 {
		return nil
	}
	return bytes.SplitAfter(s, []byte("\n"))
}

// Unclosed tells whether a finding in a piece of the file that is looked at says that something is left undone at the end of the job.
func (v *View) Unclosed(from, to int) bool {
	return slices.ContainsFunc(v.Result.Findings, func(f diag.Finding) bool {
		if f.Waived != "" || f.At.File != v.File || f.At.Start > to || f.At.End < from {
			return false
		}
		switch f.Rule {
		case "refit/left-off", "refit/left-loose", "refit/not-torqued", "refit/left-open", "refit/not-filled", "refit/old-part-back",
			"energy/left-isolated", "order/never-awaited", "wording/reverse-of-removal":
			return true
		}
		return false
	})
}
