package syntax

import (
	"bytes"

	"github.com/yuin/goldmark/ast"

	"refitcard/compiler/source"
)

// image gives a figure.
func (b *builder) image(n *ast.Image) *Image {
	outer := b.where
	b.where = "a figure's caption"
	alt := plain(settled(b.children(nil, n, false)))
	b.where = outer
	p := b.watch.images[n]
	i := &Image{At: b.file.At(p.start, p.end), Alt: alt, AltAt: b.trimmed(p.start+2, p.label)}
	i.Path, _ = unescape(n.Destination, 0, len(n.Destination))
	i.Title, _ = unescape(n.Title, 0, len(n.Title))
	if n.Reference == nil {
		i.PathAt = b.destination(p, n.Destination)
		return i
	}
	i.PathAt = b.trimmed(p.label+2, p.end-1)
	if n.Reference.Type != ast.ReferenceLinkFull {
		i.PathAt = i.AltAt // the caption is the name
	}
	return i
}

// destination is the place of the path in "](path "title")": the first words behind the bracket, line ends and the marks of
// quotes before them left out.
func (b *builder) destination(p place, path []byte) source.Span {
	start := min(p.label+2, p.end)
	if i := bytes.Index(b.src[start:max(start, p.end)], path); i > 0 {
		start += i
	}
	return b.file.At(start, min(start+len(path), p.end))
}
