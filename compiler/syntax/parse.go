package syntax

import (
	"bytes"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/yuin/goldmark/text"

	"refitcard/compiler/keys"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// The limits on what is parsed; beyond them the Markdown library takes time that grows with the square of the input.
const (
	maxBytes   = 1 << 20
	maxColumns = 60   // pipes in a line
	maxRows    = 4000 // lines with pipes in a paragraph
	maxDepth   = 40   // marks of quotes and lists at the start of a line
	maxOpen    = 400  // opening brackets in a paragraph
	maxMarks   = 1500 // emphasis and code marks in a paragraph
)

var shared = sync.OnceValue(markdown)

// Parse reads a file. The tree is never nil; what is wrong stands in its faults.
func Parse(f *source.File, verbs *verb.Table) *Tree {
	t := &Tree{File: f}
	if fault, bad := unreadable(f); bad {
		t.Faults = append(t.Faults, fault)
		return t
	}
	body := t.front()
	if fault, bad := tooWide(f, body); bad {
		t.Faults = append(t.Faults, fault)
		return t
	}
	src := f.Text
	if body > 0 {
		src = bytes.Clone(f.Text)
		for i := range body {
			if src[i] != '\n' {
				src[i] = ' '
			}
		}
	}
	b := &builder{tree: t, file: f, src: src, verbs: verbs}
	b.document(shared().Parse(text.NewReader(src)))
	return t
}

// unreadable refuses what is no text, and what is too large to be a procedure.
func unreadable(f *source.File) (source.Fault, bool) {
	if len(f.Text)+f.Mark > maxBytes {
		return source.Fault{Name: "file/too-large", At: f.At(0, 0), Words: []string{"bytes"}, Counts: []int{len(f.Text) + f.Mark, maxBytes}}, true
	}
	if i := bytes.IndexByte(f.Text, 0); i >= 0 {
		return source.Fault{Name: "file/not-text", At: f.At(i, i+1), Words: []string{"binary data"}}, true
	}
	for i := 0; i < len(f.Text); {
		r, n := utf8.DecodeRune(f.Text[i:])
		if r == utf8.RuneError && n == 1 {
			return source.Fault{Name: "file/not-text", At: f.At(i, i+1), Words: []string{"not UTF-8"}}, true
		}
		i += n
	}
	return source.Fault{}, false
}

// front reads the front matter and gives the offset of the body. A second "---" document would be ignored in silence by
// the YAML library, so the front matter is cut out first.
func (t *Tree) front() int {
	f := t.File
	if strings.TrimRight(f.LineSpan(1).Text(), " \t") != "---" {
		return 0
	}
	for n := 2; n <= f.Lines(); n++ {
		line := f.LineSpan(n)
		if strings.TrimRight(line.Text(), " \t") != "---" {
			continue
		}
		t.FrontAt = f.At(0, line.End)
		var faults []source.Fault
		from := f.LineSpan(2).Start
		t.Front, faults = keys.Read(f, f.At(from, max(line.Start, from)))
		t.Faults = append(t.Faults, faults...)
		return line.End
	}
	t.Faults = append(t.Faults, source.Fault{Name: "file/bad-value", At: f.LineSpan(1), Words: []string{"", "---", "a second line --- that ends the front matter"}})
	t.FrontAt = f.LineSpan(1)
	t.Front = &keys.Map{At: t.FrontAt}
	return t.FrontAt.End
}

// tooWide looks over the bytes for what would make the Markdown library slow.
func tooWide(f *source.File, body int) (source.Fault, bool) {
	refuse := func(line source.Span, what string, is, limit int) (source.Fault, bool) {
		return source.Fault{Name: "file/too-large", At: line, Words: []string{what}, Counts: []int{is, limit}}, true
	}
	rows, brackets, marks := 0, 0, 0
	for n := f.Line(body); n <= f.Lines(); n++ {
		line := f.LineSpan(n)
		s := f.Text[line.Start:line.End]
		if len(bytes.TrimLeft(s, " \t>")) == 0 {
			rows, brackets, marks = 0, 0, 0
		}
		pipes, depth := 0, depthOf(s)
		for _, c := range s {
			switch c {
			case '|':
				pipes++
			case '[':
				brackets++
			case '*', '_', '`', '<', '!', '&':
				marks++
			}
		}
		if pipes > 0 {
			rows++
		}
		for _, l := range []struct {
			what      string
			is, limit int
		}{{"columns in a table", pipes, maxColumns}, {"rows in a table", rows, maxRows}, {"quotes and lists within one another", depth, maxDepth}, {"brackets in a paragraph", brackets, maxOpen}, {"marks in a paragraph", marks, maxMarks}} {
			if l.is > l.limit {
				return refuse(line, l.what, l.is, l.limit)
			}
		}
	}
	return source.Fault{}, false
}

// depthOf counts the marks of quotes and lists that a line begins with, and its indentation in steps of two.
func depthOf(line []byte) int {
	depth, spaces := 0, 0
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case c == ' ':
			spaces++
		case c == '\t':
			spaces += 4
		case c == '>' || (c == '-' || c == '+' || c == '*') && (i+1 == len(line) || line[i+1] == ' '):
			depth++
		case '0' <= c && c <= '9' && i+2 < len(line) && (line[i+1] == '.' || line[i+1] == ')') && line[i+2] == ' ':
			depth++
			i++
		default:
			return depth + spaces/8
		}
	}
	return depth
}

// ParseTag reads the text at a place as the inside of a tag, for the front matter's starts and leaves.
func ParseTag(f *source.File, at source.Span, verbs *verb.Table) (*Tag, []source.Fault) {
	t := &Tree{File: f}
	b := &builder{tree: t, file: f, src: f.Text, verbs: verbs}
	tag := b.tag(at, []text.Segment{text.NewSegment(at.Start, at.End)})
	return tag, t.Faults
}
