package wire

import (
	"unicode/utf8"

	"refitcard/compiler/source"
)

// scale is the unit in which an editor counts the characters of a line.
type scale string

// The scales that can be agreed on.
const (
	utf16 scale = "utf-16"
	utf8s scale = "utf-8"
)

// chosen is the scale of a session: UTF-8 where the editor offers it, else UTF-16, which every editor has to know.
func chosen(offered []string) scale {
	for _, o := range offered {
		if scale(o) == utf8s {
			return utf8s
		}
	}
	return utf16
}

// ruler turns places of one file into those of the editor, and back.
type ruler struct {
	file  *source.File
	scale scale
	mark  bool // the editor's text has the byte order mark too
}

// lead is how much the byte order mark takes of a line.
func (r ruler) lead(line int) int {
	switch {
	case line != 0 || !r.mark:
		return 0
	case r.scale == utf8s:
		return 3
	}
	return 1
}

// position gives the place of an offset.
func (r ruler) position(offset int) position {
	offset = min(max(offset, 0), len(r.file.Text))
	line := r.file.Line(offset)
	from := r.file.LineSpan(line).Start
	n := offset - from
	if r.scale == utf16 {
		n = units(r.file.Text[from:offset])
	}
	return position{line - 1, n + r.lead(line-1)}
}

func (r ruler) span(s source.Span) span {
	return span{r.position(s.Start), r.position(s.End)}
}

// units counts UTF-16 code units. Bytes that are no character count one each, as the character that stands in for them.
func units(text []byte) int {
	n := 0
	for i := 0; i < len(text); {
		if text[i] < utf8.RuneSelf {
			i, n = i+1, n+1
			continue
		}
		c, size := utf8.DecodeRune(text[i:])
		i, n = i+size, n+1
		if c > 0xffff {
			n++
		}
	}
	return n
}

// offset gives the offset of a place. One behind the end of its line is the end of the line, one behind the last line the end of the
// text; one within a character is its start.
func (r ruler) offset(p position) int {
	if p.Line < 0 {
		return 0
	}
	if p.Line >= r.file.Lines() {
		return len(r.file.Text)
	}
	line := r.file.LineSpan(p.Line + 1)
	left := p.Character - r.lead(p.Line)
	if left <= 0 {
		return line.Start
	}
	text := r.file.Text[line.Start:line.End]
	for i := 0; i < len(text); {
		c, size := utf8.DecodeRune(text[i:])
		width := size
		if r.scale == utf16 {
			width = 1
			if c > 0xffff {
				width = 2
			}
		}
		if left < width {
			return line.Start + i
		}
		left, i = left-width, i+size
	}
	return line.End
}
