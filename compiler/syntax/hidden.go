package syntax

import (
	"github.com/yuin/goldmark/text"
)

// hide reads a tag that stands where a tag does nothing: it is reported and prints as typed.
func (b *builder) hide(n *braces, bold bool) *Text {
	at := b.file.At(n.open, n.end)
	if n.unclosed { // the words behind the brace stand in the running text
		b.unclosed(n)
		return b.newText(Text{At: at, Bold: bold})
	}
	typed, moved := at.Text(), len(n.segments) > 1
	if moved {
		typed = "{" + b.raw(n.segments).Text + "}"
	}
	if n.open != b.tornAt {
		b.fault("tag/hidden", at, typed, b.where)
	}
	return b.newText(Text{At: at, Text: typed, Bold: bold, moved: moved})
}

// hidden looks for tags in lines that print as typed, and tells whether there was one. Braces about anything but a verb are
// nobody's tag there.
func (b *builder) hidden(lines []text.Segment, place string) bool {
	open, found := -1, false
	var inside []text.Segment
	for _, line := range lines {
		start, stop := b.clamp(line.Start), b.clamp(line.Stop)
		if skipBlanks(b.src, start, stop) == stop {
			open = -1 // a tag never goes over a blank line
			continue
		}
		for from := start; from < stop; {
			n, brace := scanTag(b.src[from:stop], 0)
			at := from + n
			if open >= 0 {
				inside = append(inside, text.NewSegment(from, at))
			}
			switch {
			case brace == '}' && open >= 0:
				found = b.hiddenTag(inside, open, at+1, place) || found
				open = -1
			case brace == '{':
				open, inside = at, inside[:0]
			}
			from = at + 1
		}
	}
	return found
}

// hiddenTag reports a tag that begins with a verb.
func (b *builder) hiddenTag(inside []text.Segment, open, end int, place string) bool {
	raw := b.raw(inside)
	if v, _ := b.verbs.Longest(raw.Text); v == nil {
		return false
	}
	at := b.file.At(open, end)
	typed := at.Text()
	if len(inside) > 1 {
		typed = "{" + raw.Text + "}"
	}
	b.fault("tag/hidden", at, typed, place)
	return true
}
