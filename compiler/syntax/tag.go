package syntax

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/text"

	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// ParseTag reads the text at a place as the inside of a tag, for the front matter's starts and leaves.
func ParseTag(f *source.File, at source.Span, verbs *verb.Table) (*Tag, []source.Fault) {
	b := &builder{tree: &Tree{File: f}, file: f, src: f.Text, verbs: verbs, lastOpen: -1, tornAt: -1}
	var lines []text.Segment
	for start := at.Start; start < at.End; {
		stop := at.End
		if n := bytes.IndexByte(f.Text[start:stop], '\n'); n >= 0 {
			stop = start + n + 1
		}
		lines = append(lines, text.NewSegment(start, stop))
		start = stop
	}
	tag := b.tag(at, lines)
	return tag, b.tree.Faults
}

// tagOf turns a tag as the inline parser found it into ours.
func (b *builder) tagOf(n *braces) *Tag {
	if n.unclosed {
		return &Tag{At: b.file.At(n.open, n.end), Whole: b.unclosed(n), Unclosed: true}
	}
	return b.tag(b.file.At(n.open, n.end), n.segments)
}

// unclosed reports a brace that never closes and gives the words behind it. Braces in a row are one slip, and so is the
// brace together with the one that tore it, as in "{remove the {cover}".
func (b *builder) unclosed(n *braces) Raw {
	raw := b.raw(n.segments)
	last := n.segments[len(n.segments)-1].Stop
	row := b.lastOpen >= 0 && skipBlanks(b.src, b.lastOpen, n.open) == n.open
	b.lastOpen, b.tornAt = n.end, -1
	if last < len(b.src) && b.src[last] == '{' {
		b.tornAt = last
	}
	if row {
		return raw
	}
	end, words := n.open+1, raw.Text
	for end < len(b.src) && b.src[end] == '{' {
		end++
	}
	start := end
	for end < len(b.src) && !isBlank(b.src[end]) && b.src[end] != '{' && b.src[end] != '}' {
		end++
	}
	if words == "" {
		words = string(b.src[start:end])
	}
	b.fault("tag/unclosed", b.file.At(n.open, end), firstWords(words))
	return raw
}

// firstWords is enough of a tag to know it by.
func firstWords(s string) string {
	words := strings.Fields(strings.ToValidUTF8(s[:min(len(s), 200)], ""))
	return strings.Join(words[:min(len(words), 4)], " ")
}

// tag reads verb and body.
func (b *builder) tag(at source.Span, lines []text.Segment) *Tag {
	t := b.tags.one()
	t.At, t.Whole = at, b.raw(lines)
	s := t.Whole.Text
	if strings.Trim(s, ": ") == "" {
		b.fault("tag/empty", at)
		return t
	}
	v, n := b.verbs.Longest(s)
	if v == nil {
		word := firstWord(s)
		t.VerbAt = t.Whole.At(0, len(word))
		if at.Start != b.tornAt {
			b.fault("tag/unknown-verb", t.VerbAt, word, b.nearest(s, word))
		}
		return t
	}
	t.Verb, t.VerbAt = v, t.Whole.At(0, n)
	rest := strings.TrimLeft(s[n:], " ")
	rest = strings.TrimLeft(strings.TrimPrefix(rest, ":"), " ")
	t.Body = t.Whole.Cut(len(s)-len(rest), len(s))
	return t
}

// firstWord is the first word without the stops behind it, or with them when there is nothing else.
func firstWord(s string) string {
	word := s
	if i := strings.IndexAny(s, " :"); i >= 0 {
		word = s[:max(i, 1)]
	}
	if cut := strings.TrimRight(word, ".,;:"); cut != "" {
		return cut
	}
	return word
}

// The limits on hints: no verb has more letters, the shop's own neither; and a file with more unknown verbs than that needs
// no hint on the next.
const (
	longestVerb = 60
	maxHints    = 1000
)

// nearest offers a verb: for the first two words together, then for the first.
func (b *builder) nearest(s, word string) string {
	if len(word) > longestVerb {
		return ""
	}
	_, rest, _ := strings.Cut(s, " ")
	if second := firstWord(strings.TrimLeft(rest, " ")); second != "" && len(second) <= longestVerb {
		if v := b.hint(word + " " + second); strings.Contains(v, " ") {
			return v
		}
	}
	return b.hint(word)
}

func (b *builder) hint(words string) string {
	near, ok := b.hints[words]
	if !ok && len(b.hints) < maxHints {
		if b.hints == nil {
			b.hints = map[string]string{}
		}
		near = b.verbs.Nearest(words)
		b.hints[words] = near
	}
	return near
}

// raw joins the lines of a tag: a line end becomes one space, escapes of braces and pipes are resolved, white space at
// the ends is cut. Every byte keeps the offset that it came from.
func (b *builder) raw(lines []text.Segment) Raw {
	if len(lines) == 1 {
		if raw, ok := b.verbatim(lines[0]); ok {
			return raw
		}
	}
	size := 1
	for _, l := range lines {
		size += l.Stop - l.Start + 1
	}
	out, from := make([]byte, 0, size), make([]int32, 0, size)
	end := 0
	for i, l := range lines {
		start, stop := b.clamp(l.Start), b.clamp(l.Stop)
		if i > 0 {
			start = skipBlanks(b.src, start, stop)
		}
		if i+1 < len(lines) {
			stop = trimBlanks(b.src, start, stop)
		}
		if i > 0 && len(out) > 0 && out[len(out)-1] != ' ' {
			out, from = append(out, ' '), append(from, int32(end))
		}
		for at := start; at < stop; at++ {
			c := b.src[at]
			if c == '\\' && at+1 < stop && isEscaped(b.src[at+1]) {
				at++
				c = b.src[at]
			}
			if isBlank(c) {
				c = ' '
			}
			out, from = append(out, c), append(from, int32(at))
		}
		end = max(stop, start)
	}
	from = append(from, int32(end))
	first, last := 0, len(out)
	for first < last && out[first] == ' ' {
		first++
	}
	for last > first && out[last-1] == ' ' {
		last--
	}
	return Raw{Text: string(out[first:last]), File: b.file, from: from[first : last+1]}
}

// verbatim is raw for a line that holds neither an escape nor a blank that is no space: most tags are of one.
func (b *builder) verbatim(line text.Segment) (Raw, bool) {
	start, stop := b.clamp(line.Start), b.clamp(line.Stop)
	for _, c := range b.src[start:stop] {
		if c == '\\' || c != ' ' && isBlank(c) {
			return Raw{}, false
		}
	}
	stop = trimBlanks(b.src, start, stop)
	if start == stop {
		start, stop = line.Stop, line.Stop
	}
	start = skipBlanks(b.src, start, stop)
	return Raw{Text: b.file.At(start, stop).Text(), File: b.file, start: start}, true
}
