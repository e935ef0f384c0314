package resolve

import (
	"slices"
	"strings"

	"refitcard/compiler/procedure"
	"refitcard/compiler/source"
	"refitcard/compiler/syntax"
	"refitcard/compiler/verb"
)

// declarations reads the sections Parts, Tools and Supplies of the main file and of what it includes.
func (r *resolver) declarations() {
	r.declare(r.in.Main)
	r.silent()
	r.included = true
	for i, x := range r.in.Includes {
		if !slices.ContainsFunc(r.in.Includes[:i], func(o Included) bool { return o.Tree.File == x.Tree.File }) {
			r.declare(x.Tree)
		}
	}
	r.included = false
}

func (r *resolver) declare(t *syntax.Tree) {
	var seen [len(sections)]*syntax.Section
	for _, s := range t.Sections {
		kind := declares(t, s)
		if kind == "" {
			continue
		}
		if !sameWord(s.Title, kind) && !r.included {
			r.fault("section/silent", s.TitleAt, strings.ToUpper(kind[:1])+kind[1:])
		}
		if first := &seen[slices.Index(sections[:], kind)]; *first != nil {
			r.fault("section/repeated", s.TitleAt, s.Title).Related = related((*first).TitleAt, "first here")
		} else {
			*first = s
		}
		section := r.section(kind)
		if !r.included {
			section.At = s.TitleAt
		}
		for _, b := range s.Blocks {
			if r.none(b) {
				section.None = section.None || !r.included
				continue
			}
			r.declaration(kind, b)
		}
	}
}

// declares tells which section of declarations a heading begins: "parts", "tools", "supplies", or none. A heading that nearly
// says so, over what such a section holds, is read as it when the file has no other.
func declares(t *syntax.Tree, s *syntax.Section) string {
	for _, kind := range sections {
		if sameWord(s.Title, kind) {
			return kind
		}
	}
	if len(s.Blocks) == 0 {
		return ""
	}
	_, table := s.Blocks[0].(*syntax.Table)
	list, ok := s.Blocks[0].(*syntax.List)
	bullets := ok && !list.Ordered && len(s.Blocks) == 1
	if !table && !bullets {
		return ""
	}
	kind := verb.Near(s.Title, sections[:])
	if kind == "" || table && kind != "parts" || slices.ContainsFunc(t.Sections, func(o *syntax.Section) bool { return strings.EqualFold(o.Title, kind) }) {
		return ""
	}
	return kind
}

// sameWord tells whether a text is a word of small ASCII letters, in any case.
func sameWord(text, word string) bool {
	if len(text) != len(word) {
		return false
	}
	for i := range len(word) {
		if text[i] != word[i] && text[i]|0x20 != word[i] {
			return false
		}
	}
	return true
}

// sections are the headings of what is declared, small.
var sections = [...]string{"parts", "tools", "supplies"}

func (r *resolver) section(kind string) *procedure.Section {
	switch kind {
	case "parts":
		return &r.p.PartsSection
	case "tools":
		return &r.p.ToolsSection
	}
	return &r.p.SuppliesSection
}

// none tells whether a block is "- none".
func (r *resolver) none(b syntax.Block) bool {
	l, ok := b.(*syntax.List)
	if !ok || len(l.Items) != 1 || len(l.Items[0].Blocks) != 1 {
		return false
	}
	p, ok := l.Items[0].Blocks[0].(*syntax.Paragraph)
	return ok && strings.EqualFold(strings.TrimRight(syntax.Plain(p.Text), "."), "none")
}

// silent reports, in one finding, the sections that are neither there nor said to be empty.
func (r *resolver) silent() {
	var missing []string
	for _, kind := range []string{"Parts", "Tools", "Supplies"} {
		if !r.section(strings.ToLower(kind)).At.Known() {
			missing = append(missing, kind)
		}
	}
	if len(missing) == 0 || len(r.in.Main.Sections) == 0 {
		return
	}
	r.fault("section/silent", r.in.Main.Sections[0].TitleAt, missing...)
}

func (r *resolver) declaration(kind string, b syntax.Block) {
	switch b := b.(type) {
	case *syntax.Table:
		if kind == "parts" {
			r.parts(b)
			return
		}
		r.fault("part/bad-row", b.At, kind, "a table", "bullets: - 13 mm socket")
	case *syntax.List:
		r.expectBullets(kind, len(b.Items))
		for _, item := range b.Items {
			if kind == "parts" {
				r.fault("part/bad-row", item.At, "Parts", firstLine(item.At), "a table with the columns Part and Qty")
				return
			}
			r.bullet(kind, item)
		}
	case *syntax.Layout:
		r.drawn = append(r.drawn, func() { r.layout(b, nil) })
	case *syntax.Stack:
		r.drawn = append(r.drawn, func() { r.stack(b, nil) })
	case *syntax.Quote:
		// A message under the lists is meant for the whole job: it must never be lost.
		if m := r.message(b); m != nil {
			r.p.Messages = append(r.p.Messages, m)
		}
	case *syntax.Paragraph:
		r.prose(b.Text, "the declarations", nil)
	}
}

func firstLine(at source.Span) string {
	line, _, _ := strings.Cut(at.Text(), "\n")
	return strings.TrimSpace(line)
}
