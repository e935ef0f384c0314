package syntax

import (
	"strings"

	"refitcard/compiler/source"
)

// hide records the tags among inlines that stand where a tag does nothing.
func (b *builder) hide(list []Inline, place string) {
	for _, i := range list {
		if t, ok := i.(*Tag); ok && !t.Unclosed {
			b.unreport(t)
			b.fault("tag/hidden", t.At, t.At.Text(), place)
		}
	}
}

// unreport takes back the faults of a tag that is reported as hidden: one slip, one finding.
func (b *builder) unreport(t *Tag) {
	kept := b.tree.Faults[:0]
	for _, f := range b.tree.Faults {
		if (f.Name == "tag/unknown-verb" || f.Name == "tag/empty") && t.At.Holds(f.At) {
			continue
		}
		kept = append(kept, f)
	}
	b.tree.Faults = kept
}

// hidden looks for `{verb …}` in text that prints as typed; braces about anything but a verb are nobody's tag.
func (b *builder) hidden(at source.Span, place string) {
	s := at.Text()
	for i := 0; i < len(s); {
		open := strings.IndexByte(s[i:], '{')
		if open < 0 {
			return
		}
		i += open
		end := strings.IndexAny(s[i+1:], "{}")
		if end < 0 {
			return
		}
		if s[i+1+end] == '}' && (i == 0 || s[i-1] != '\\') {
			if v, _ := b.verbs.Longest(strings.TrimSpace(s[i+1 : i+1+end])); v != nil {
				tag := b.file.At(at.Start+i, at.Start+i+end+2)
				b.fault("tag/hidden", tag, tag.Text(), place)
			}
		}
		i += 1 + end
	}
}
