package syntax

import (
	"bytes"
	"strings"
	"sync"

	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"refitcard/compiler/keys"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// shared is the Markdown parser, made at the first use: it never changes.
var shared = sync.OnceValue(func() parser.Parser { return markdown(itemsParser{}, rowsParser{}, runParser{}, tables{}) })

// Parse reads a file. The tree is never nil; what is wrong stands in its faults. A file that is no text, or beyond the
// limits, gives a tree with that one fault and nothing else.
func Parse(f *source.File, verbs *verb.Table) *Tree { return parseWith(f, verbs, shared()) }

func parseWith(f *source.File, verbs *verb.Table, markdown parser.Parser) *Tree {
	refused := func(fault source.Fault) *Tree { return &Tree{File: f, Faults: []source.Fault{fault}} }
	if fault, bad := unreadable(f); bad {
		return refused(fault)
	}
	body := frontEnd(f)
	if body > maxFront {
		return refused(tooLarge(f.At(0, 0), "bytes in the front matter", body, maxFront))
	}
	if fault, bad := tooDeep(f, body); bad {
		return refused(fault)
	}
	src := prepared(f.Text)
	w, pc := newWatch()
	reader := text.NewReader(src)
	reader.SetPosition(0, text.NewSegment(body, body))
	doc := markdown.Parse(reader, parser.WithContext(pc))
	if w.over != nil {
		line := f.LineSpan(f.Line(w.over.at))
		return refused(tooLarge(startOf(f.At(w.over.at, line.End)), w.over.what, w.over.is, w.over.limit))
	}
	t := &Tree{File: f, defines: len(pc.References()) > 0}
	t.front(body)
	b := &builder{tree: t, file: f, src: src, verbs: verbs, watch: w, lastOpen: -1, tornAt: -1}
	b.document(doc)
	if fault, over := t.oversize(); over {
		return refused(fault)
	}
	return t
}

// Front reads the front matter of a file and nothing else; nil where Parse gives none.
func Front(f *source.File) *keys.Map {
	if _, bad := unreadable(f); bad {
		return nil
	}
	t := &Tree{File: f}
	t.front(frontEnd(f))
	return t.Front
}

// frontEnd is the offset behind the front matter, 0 when there is none. The front matter is cut out before the YAML
// library sees it: that would pass over a second document in silence.
func frontEnd(f *source.File) int {
	if !isFence(f.LineSpan(1)) {
		return 0
	}
	for n := 2; n <= f.Lines(); n++ {
		if line := f.LineSpan(n); isFence(line) {
			return line.End
		}
	}
	return f.LineSpan(1).End // nothing closes it: the file is read on behind it
}

func isFence(line source.Span) bool {
	return line.End-line.Start < 200 && strings.TrimRight(line.Text(), " \t") == "---"
}

// front reads the front matter that ends at body.
func (t *Tree) front(body int) {
	if body == 0 {
		return
	}
	f := t.File
	t.FrontAt = f.At(0, body)
	last := f.Line(body)
	if last == 1 {
		t.Faults = append(t.Faults, source.Fault{Name: "file/bad-value", At: t.FrontAt, Words: []string{"", "---", "a second line --- that ends the front matter"}})
		t.Front = &keys.Map{At: t.FrontAt}
		return
	}
	var faults []source.Fault
	start := f.LineSpan(2).Start
	t.Front, faults = keys.Read(f, f.At(start, max(f.LineSpan(last).Start, start)))
	t.Faults = append(t.Faults, faults...)
}

// prepared is the text as the Markdown library gets it, byte for byte as long: a lone CR is the line end that editors take it
// for.
func prepared(src []byte) []byte {
	if bytes.Count(src, []byte("\r")) == bytes.Count(src, []byte("\r\n")) {
		return src
	}
	src = bytes.Clone(src)
	for i := range src {
		if src[i] == '\r' && (i+1 == len(src) || src[i+1] != '\n') {
			src[i] = '\n'
		}
	}
	return src
}
