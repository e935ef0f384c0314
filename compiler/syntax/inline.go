package syntax

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler/source"
)

// inlines turns the running text of a block into ours.
func (b *builder) inlines(n ast.Node) []Inline { return settled(b.children(nil, n, false)) }

// hiding gives the running text of a block in which tags do nothing; where says which.
func (b *builder) hiding(n ast.Node, where string) []Inline {
	outer := b.where
	if outer == "" {
		b.where = where
	}
	list := settled(b.children(nil, n, false))
	b.where = outer
	return list
}

// settled fills in the words of verbatim text, which is joined by its places first: to join the words themselves each time
// would take time that grows with the square of the pieces.
func settled(list []Inline) []Inline {
	for _, i := range list {
		t, ok := i.(*Text)
		if !ok || t.moved {
			continue
		}
		t.Text = t.At.Text()
		if t.broken && !t.Code {
			t.Text = strings.TrimRight(t.Text, " ")
		}
		if t.broken {
			t.Text += " "
		}
	}
	return list
}

func (b *builder) children(out []Inline, n ast.Node, bold bool) []Inline {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		out = b.inline(out, c, bold)
	}
	return out
}

func (b *builder) inline(out []Inline, n ast.Node, bold bool) []Inline {
	switch n := n.(type) {
	case *tagNode:
		if b.where != "" {
			return add(out, b.hide(n, bold))
		}
		return append(out, b.tagOf(n))
	case *ast.Text:
		return b.text(out, n, bold)
	case *ast.CodeSpan:
		return b.code(out, n, bold)
	case *ast.Emphasis:
		return b.children(out, n, bold || n.Level == 2)
	case *ast.Image:
		return append(out, b.image(n))
	case *ast.Link:
		outer := b.where
		if outer == "" {
			b.where = "link text"
		}
		out = b.children(out, n, bold)
		b.where = outer
		return out
	case *ast.AutoLink:
		label := n.Label(b.src)
		start := b.clamp(n.Pos() + 1) // behind the "<"
		return append(out, &Text{At: b.file.At(start, start+len(label)), Bold: bold})
	case *ast.RawHTML:
		return b.html(out, n, bold)
	}
	return b.children(out, n, bold)
}

// text resolves escapes and entities once. A line end is a space, a hard one too: a card breaks its own lines.
func (b *builder) text(out []Inline, n *ast.Text, bold bool) []Inline {
	start := b.clamp(n.Segment.Start)
	end := max(b.clamp(n.Segment.Stop), start)
	broken := n.SoftLineBreak() || n.HardLineBreak()
	if broken {
		end = trimBlanks(b.src, start, end)
	}
	if start < end {
		for _, p := range pieces(b.src, start, end) {
			t := &Text{At: b.file.At(p.start, p.end), Bold: bold, moved: p.entity}
			if p.entity {
				t.Text = string(p.text)
			}
			out = add(out, t)
		}
	}
	if !broken {
		return out
	}
	if len(out) > 0 {
		if last, ok := out[len(out)-1].(*Text); ok && last.At.End == end && last.plain() && last.Bold == bold {
			last.broken = true
			return out
		}
	}
	return append(out, &Text{At: b.file.At(end, end), Bold: bold, broken: true})
}

// plain tells whether more text may be joined to n.
func (n *Text) plain() bool { return !n.Code && !n.moved && !n.broken }

// add joins text that belongs together: the library cuts it at every mark that it tried.
func add(out []Inline, t *Text) []Inline {
	if len(out) > 0 {
		last, ok := out[len(out)-1].(*Text)
		if ok && last.plain() && t.plain() && last.Bold == t.Bold && last.At.End == t.At.Start {
			last.At.End = t.At.End
			return out
		}
	}
	return append(out, t)
}

// code gives the words of a code span, line by line; nothing in them is a tag.
func (b *builder) code(out []Inline, n *ast.CodeSpan, bold bool) []Inline {
	var lines []text.Segment
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if t, ok := c.(*ast.Text); ok {
			lines = append(lines, t.Segment)
		}
	}
	b.hidden(lines, "a code span")
	for i, l := range lines {
		start, end := b.clamp(l.Start), b.clamp(l.Stop)
		for end > start && (b.src[end-1] == '\n' || b.src[end-1] == '\r') {
			end--
		}
		if start < end || i+1 < len(lines) {
			out = append(out, &Text{At: b.file.At(start, end), Bold: bold, Code: true, broken: i+1 < len(lines)})
		}
	}
	return out
}

// html leaves out what only dresses text. A name in angle brackets that HTML does not know, such as the legend of a button,
// is something that the writer wants read: it prints as typed.
func (b *builder) html(out []Inline, n *ast.RawHTML, bold bool) []Inline {
	list := n.Segments.Sliced(0, n.Segments.Len())
	b.hidden(list, "HTML")
	if len(list) == 0 {
		return out
	}
	at := b.file.At(b.clamp(list[0].Start), b.clamp(list[len(list)-1].Stop))
	name := elementOf(at)
	switch {
	case name == "br":
		return append(out, &Text{At: at, Text: " ", Bold: bold, moved: true})
	case name == "" || dresses(name):
		return out
	}
	if len(list) > 1 {
		return append(out, &Text{At: at, Text: strings.Join(strings.Fields(at.Text()), " "), Bold: bold, moved: true})
	}
	return add(out, &Text{At: at, Bold: bold})
}

// elementOf is the name of an element in lower case; empty for a comment and the like.
func elementOf(at source.Span) string {
	s := bytes.TrimLeft(at.File.Text[at.Start:at.End], "</")
	end := bytes.IndexFunc(s, func(r rune) bool { return r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '/' || r == '>' })
	if end <= 0 || s[0] == '!' || s[0] == '?' {
		return ""
	}
	return strings.ToLower(string(s[:end]))
}

// dresses tells whether HTML has an element of that name that stands in running text. Source: HTML, living standard, 4.5 and
// 4.7, from memory; those that are words of a workshop as well (button, map, ruby, time, var) are left out.
func dresses(name string) bool {
	switch name {
	case "a", "abbr", "b", "bdi", "bdo", "big", "cite", "code", "del", "dfn", "div", "em", "font", "hr", "i", "img", "ins", "kbd",
		"mark", "p", "q", "s", "samp", "small", "span", "strike", "strong", "sub", "sup", "tt", "u", "wbr":
		return true
	}
	return false
}

// plain is the text of inlines without any marks, tags as they were typed.
func plain(list []Inline) string {
	if len(list) == 1 {
		if t, ok := list[0].(*Text); ok {
			return strings.TrimSpace(t.Text)
		}
	}
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
