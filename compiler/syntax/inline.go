package syntax

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"refitcard/compiler/source"
)

// inlines turns the running text of a block into ours.
func (b *builder) inlines(n ast.Node, bold bool) []Inline {
	var out []Inline
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		out = b.inline(out, c, bold)
	}
	return out
}

func (b *builder) inline(out []Inline, n ast.Node, bold bool) []Inline {
	switch n := n.(type) {
	case *tagNode:
		return append(out, b.tagOf(n))
	case *ast.Text:
		return b.text(out, n, bold)
	case *ast.String:
		return out
	case *ast.CodeSpan:
		return b.code(out, n, bold)
	case *ast.Emphasis:
		return append(out, b.inlines(n, bold || n.Level == 2)...)
	case *ast.Image:
		return append(out, b.image(n))
	case *ast.Link:
		inner := b.inlines(n, bold)
		b.hide(inner, "link text")
		return append(out, inner...)
	case *ast.AutoLink:
		label := n.Label(b.src)
		at := b.find(n.Pos(), label)
		return append(out, &Text{At: at, Text: string(label), Bold: bold})
	case *ast.RawHTML:
		for _, s := range n.Segments.Sliced(0, n.Segments.Len()) {
			b.hidden(b.file.At(s.Start, s.Stop), "HTML")
		}
		return out
	}
	return append(out, b.inlines(n, bold)...)
}

// text resolves escapes and entities once. A line end is a space; a hard one too: a card breaks its own lines.
func (b *builder) text(out []Inline, n *ast.Text, bold bool) []Inline {
	raw := n.Segment.Value(b.src)
	value := raw
	if !n.IsRaw() && bytes.ContainsAny(raw, `\&`) {
		value = util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(raw)))
	}
	s := strings.ReplaceAll(string(value), "\n", " ")
	if n.SoftLineBreak() || n.HardLineBreak() {
		s = strings.TrimRight(s, " ") + " "
	}
	at := b.file.At(n.Segment.Start, n.Segment.Stop)
	if len(out) > 0 { // the library cuts text at every mark that it tried: join what belongs together
		if last, ok := out[len(out)-1].(*Text); ok && last.Bold == bold && !last.Code && last.At.End == at.Start {
			last.Text += s
			last.At.End = at.End
			return out
		}
	}
	if s == "" {
		return out
	}
	return append(out, &Text{At: at, Text: s, Bold: bold})
}

func (b *builder) code(out []Inline, n *ast.CodeSpan, bold bool) []Inline {
	var s strings.Builder
	start, end := -1, 0
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if t, ok := c.(*ast.Text); ok {
			if start < 0 {
				start = t.Segment.Start
			}
			end = t.Segment.Stop
			s.Write(bytes.ReplaceAll(t.Segment.Value(b.src), []byte("\n"), []byte(" ")))
		}
	}
	if start < 0 {
		return out
	}
	at := b.file.At(start, end)
	b.hidden(at, "a code span")
	return append(out, &Text{At: at, Text: s.String(), Bold: bold, Code: true})
}

func (b *builder) image(n *ast.Image) *Image {
	alt := b.inlines(n, false)
	b.hide(alt, "a figure's caption")
	path := string(n.Destination)
	pathAt := b.find(n.Pos(), n.Destination)
	start := min(max(n.Pos(), 0), len(b.src))
	if start > pathAt.Start {
		start = pathAt.Start
	}
	end := pathAt.End
	if i := bytes.IndexByte(b.src[end:min(len(b.src), end+200)], ')'); i >= 0 {
		end += i + 1
	}
	return &Image{At: b.file.At(start, end), Path: path, PathAt: pathAt, Alt: strings.TrimSpace(plain(alt))}
}

// find gives the place of words at or behind an offset; the offset itself when they were written with escapes.
func (b *builder) find(from int, words []byte) source.Span {
	from = min(max(from, 0), len(b.src))
	window := b.src[from:min(len(b.src), from+4096)]
	if i := bytes.Index(window, words); i >= 0 && len(words) > 0 {
		return b.file.At(from+i, from+i+len(words))
	}
	return b.file.At(from, from)
}

// tagOf turns a tag as the inline parser found it into ours.
func (b *builder) tagOf(n *tagNode) *Tag {
	at := b.file.At(n.open, n.end)
	if n.unclosed {
		raw := b.raw(n.segments)
		end := n.open + 1
		for end < len(b.src) && !isBlank(b.src[end]) && b.src[end] != '{' && b.src[end] != '}' {
			end++
		}
		b.fault("tag/unclosed", b.file.At(n.open, end), firstWords(raw.Text))
		return &Tag{At: at, Whole: raw, Unclosed: true}
	}
	return b.tag(at, n.segments)
}

func firstWords(s string) string {
	words := strings.Fields(s)
	return strings.Join(words[:min(len(words), 4)], " ")
}

// tag reads verb and body.
func (b *builder) tag(at source.Span, segments []text.Segment) *Tag {
	t := &Tag{At: at, Whole: b.raw(segments)}
	s := t.Whole.Text
	if s == "" {
		b.fault("tag/empty", at)
		return t
	}
	v, n := b.verbs.Longest(s)
	if v == nil {
		word := strings.TrimRight(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ':' })[0:1][0], ".,;")
		t.VerbAt = t.Whole.At(0, len(word))
		b.fault("tag/unknown-verb", t.VerbAt, word, b.nearest(s, word))
		return t
	}
	t.Verb, t.VerbAt = v, t.Whole.At(0, n)
	rest := strings.TrimLeft(s[n:], " ")
	rest = strings.TrimLeft(strings.TrimPrefix(rest, ":"), " ")
	t.Body = t.Whole.Cut(len(s)-len(rest), len(s))
	return t
}

// nearest offers a verb: for the first two words together, then for the first.
func (b *builder) nearest(s, word string) string {
	if words := strings.Fields(s); len(words) > 1 {
		two := strings.ToLower(words[0] + " " + words[1])
		if v := b.verbs.Nearest(two); strings.Contains(v, " ") {
			return v
		}
	}
	return b.verbs.Nearest(word)
}

// raw joins the segments of a tag: a line end becomes one space, escapes of braces and pipes are resolved, white space at
// the ends is cut. Every byte keeps the offset that it came from.
func (b *builder) raw(segments []text.Segment) Raw {
	r := Raw{File: b.file}
	var out []byte
	put := func(c byte, from int) {
		out = append(out, c)
		r.From = append(r.From, int32(from))
	}
	end := 0
	for i, s := range segments {
		start, stop := s.Start, min(s.Stop, len(b.src))
		for i > 0 && start < stop && isBlank(b.src[start]) {
			start++
		}
		for stop > start && (b.src[stop-1] == '\n' || b.src[stop-1] == '\r') {
			stop--
		}
		if i > 0 {
			for len(out) > 0 && isBlank(out[len(out)-1]) {
				out, r.From = out[:len(out)-1], r.From[:len(r.From)-1]
			}
			put(' ', max(segments[i-1].Stop-1, 0))
		}
		for at := start; at < stop; at++ {
			c := b.src[at]
			if c == '\\' && at+1 < stop && strings.IndexByte(`{}|\`, b.src[at+1]) >= 0 {
				at++
				c = b.src[at]
			}
			if c == '\t' {
				c = ' '
			}
			put(c, at)
		}
		end = stop
	}
	first, last := 0, len(out)
	for first < last && isBlank(out[first]) {
		first++
	}
	for last > first && isBlank(out[last-1]) {
		last--
	}
	if last < len(out) {
		end = int(r.From[last])
	}
	r.Text = string(out[first:last])
	r.From = append(r.From[first:last:last], int32(end))
	return r
}

// plain is the text of inlines without any marks, tags as they were typed.
func plain(list []Inline) string {
	var s strings.Builder
	for _, i := range list {
		switch i := i.(type) {
		case *Text:
			s.WriteString(i.Text)
		case *Tag:
			s.WriteString(i.Whole.Text)
		case *Break:
			s.WriteByte(' ')
		}
	}
	return strings.TrimSpace(s.String())
}

// Plain is the text of inlines without any marks.
func Plain(list []Inline) string { return plain(list) }
