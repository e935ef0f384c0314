package syntax

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"refitcard/compiler/source"
)

// fenced turns a fenced block into a layout, a stack, or text that prints as typed.
func (b *builder) fenced(n *ast.FencedCodeBlock) []Block {
	at := b.lines(n)
	info := ""
	var infoAt source.Span
	if n.Info != nil {
		infoAt = b.trimmed(n.Info.Segment.Start, n.Info.Segment.Stop)
		info = infoAt.Text()
		at = infoAt.To(at)
		if at.End < infoAt.End {
			at.End = infoAt.End
		}
	}
	word, _, _ := strings.Cut(info, " ")
	rest := b.trimmed(infoAt.Start+len(word), infoAt.End)
	switch strings.ToLower(word) {
	case "layout":
		return []Block{b.layout(n, at, rest)}
	case "stack":
		return []Block{b.stack(n, at, rest)}
	}
	b.hidden(b.lines(n), "a code block")
	if at.Text() == "" {
		return nil
	}
	return []Block{&Paragraph{At: b.lines(n), Text: []Inline{&Text{At: b.lines(n), Text: strings.TrimSpace(b.lines(n).Text()), Code: true}}}}
}

// layout reads a drawing: `o`, a letter or a number is a place; "a = guard bolt, b = long guard bolt" names letters.
func (b *builder) layout(n *ast.FencedCodeBlock, at, name source.Span) *Layout {
	l := &Layout{At: at, Name: name.Text(), NameAt: name, Names: map[byte]string{}, NameOf: map[byte]source.Span{}}
	segments := n.Lines()
	for y := range segments.Len() {
		s := segments.At(y)
		line := strings.TrimRight(string(b.src[s.Start:s.Stop]), " \t\r\n")
		if strings.Contains(line, "=") {
			b.legend(l, s.Start, line)
			continue
		}
		b.places(l, s.Start, s.Padding, y, line)
	}
	return l
}

func (b *builder) places(l *Layout, offset, x, y int, line string) {
	for i := 0; i < len(line); i++ {
		c := line[i]
		place := Place{X: x, Y: y, At: b.file.At(offset+i, offset+i+1)}
		switch {
		case c == '\t':
			x += 4 - x%4
			continue
		case '0' <= c && c <= '9':
			n := 0
			for i < len(line) && '0' <= line[i] && line[i] <= '9' && n < 1000 {
				n = n*10 + int(line[i]-'0')
				i++
			}
			place.Order, place.At = n, b.file.At(place.At.Start, offset+i)
			i--
			l.Places = append(l.Places, place)
			x += place.At.End - place.At.Start
			continue
		case 'a' <= c && c <= 'z' || c == 'O':
			place.Mark = c
			if c == 'O' {
				place.Mark = 'o'
			}
			l.Places = append(l.Places, place)
		}
		x++
	}
}

// legend reads "a = guard bolt, b = long guard bolt".
func (b *builder) legend(l *Layout, offset int, line string) {
	for at := 0; at <= len(line); {
		end := strings.IndexByte(line[at:], ',')
		if end < 0 {
			end = len(line) - at
		}
		piece := line[at : at+end]
		letter, name, ok := strings.Cut(piece, "=")
		if letter = strings.TrimSpace(letter); ok && len(letter) == 1 {
			from := offset + at + strings.IndexByte(piece, '=') + 1
			where := b.trimmed(from, from+len(name))
			l.Names[letter[0]], l.NameOf[letter[0]] = where.Text(), where
		}
		at += end + 1
	}
}

// stack reads the name, the target and the lines of a pile.
func (b *builder) stack(n *ast.FencedCodeBlock, at, rest source.Span) *Stack {
	s := &Stack{At: at}
	text := rest.Text()
	cut := len(text)
	for i := range text { // the target begins at the first figure that stands at the start of a word
		if '0' <= text[i] && text[i] <= '9' && (i == 0 || text[i-1] == ' ') {
			cut = i
			break
		}
	}
	s.NameAt = b.trimmed(rest.Start, rest.Start+cut)
	s.Name = s.NameAt.Text()
	s.TarAt = b.trimmed(rest.Start+cut, rest.End)
	s.Target = s.TarAt.Text()
	segments := n.Lines()
	for i := range segments.Len() {
		g := segments.At(i)
		if line := b.trimmed(g.Start, g.Stop); line.End > line.Start {
			s.Lines = append(s.Lines, StackLine{line, line.Text()})
		}
	}
	return s
}
