package syntax

import (
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"refitcard/compiler/source"
)

// maxOrder is more than any layout has places; a longer number is no place in an order.
const maxOrder = 1000

// layout reads a drawing: `o`, a letter or a number is a place; "a = guard bolt, b = long guard bolt" names letters.
func (b *builder) layout(n *ast.FencedCodeBlock, at, name source.Span) *Layout {
	l := &Layout{At: at, Name: name.Text(), NameAt: name, Names: map[byte]string{}, NameOf: map[byte]source.Span{}}
	lines := b.readable(n)
	for _, line := range lines {
		if s := b.file.At(line.Start, line.Stop); strings.Contains(s.Text(), "=") {
			b.legend(l, s)
		}
	}
	for y, line := range lines {
		if s := b.file.At(line.Start, line.Stop); !strings.Contains(s.Text(), "=") {
			b.drawing(l, s, line.Padding, y)
		}
	}
	return l
}

// drawing reads one line of the drawing. Tabs reach to the next multiple of four columns of the file's line; padding is
// what is left of a tab that the block's own indentation cut.
func (b *builder) drawing(l *Layout, line source.Span, padding, y int) {
	text := line.Text()
	column := 0
	for _, c := range string(b.src[b.file.LineSpan(b.file.Line(line.Start)).Start:line.Start]) {
		column = advance(column, c)
	}
	margin := column - padding
	for i := 0; i < len(text); {
		end := wordOf(text, i)
		switch {
		case isDigit(text[i]):
			if n := number(text[i:end]); n > 0 {
				l.Places = append(l.Places, Place{X: column - margin, Y: y, Order: n, At: b.file.At(line.Start+i, line.Start+end)})
			}
		case isLetter(text[i]) && l.drawn(text[i:end]):
			for k := i; k < end; k++ {
				l.Places = append(l.Places, Place{X: column + k - i - margin, Y: y, Mark: lower(text[k]), At: b.file.At(line.Start+k, line.Start+k+1)})
			}
		}
		for _, c := range text[i:end] {
			column = advance(column, c)
		}
		i = end
	}
}

// wordOf is the end of the digits or letters that stand at an offset, or of the one character there.
func wordOf(s string, at int) int {
	kind := isLetter
	switch {
	case isDigit(s[at]):
		kind = isDigit
	case !isLetter(s[at]):
		_, size := utf8.DecodeRuneInString(s[at:])
		return at + size
	}
	for at < len(s) && kind(s[at]) {
		at++
	}
	return at
}

// drawn tells whether letters that touch one another are places: a letter alone, a row of o, or letters that the legend
// names. Any other word is a remark on the drawing, such as "front".
func (l *Layout) drawn(letters string) bool {
	if len(letters) == 1 || strings.Trim(letters, "oO") == "" {
		return true
	}
	for i := range len(letters) {
		if c := lower(letters[i]); c != 'o' && l.Names[c] == "" {
			return false
		}
	}
	return true
}

// legend reads "a = guard bolt, b = long guard bolt".
func (b *builder) legend(l *Layout, line source.Span) {
	text := line.Text()
	for at := 0; at <= len(text); {
		end := len(text)
		if n := strings.IndexByte(text[at:], ','); n >= 0 {
			end = at + n
		}
		letter, _, ok := strings.Cut(text[at:end], "=")
		if c := strings.TrimSpace(letter); ok && len(c) == 1 && isLetter(c[0]) {
			behind := line.Start + at + len(letter) + 1
			where := b.trimmed(behind, line.Start+end)
			if where.Start == where.End {
				where = b.file.At(behind, behind) // the block may end before the blanks behind it do
			}
			l.Names[lower(c[0])], l.NameOf[lower(c[0])] = where.Text(), where
		}
		at = end + 1
	}
}

// advance is the column behind a character.
func advance(column int, c rune) int {
	switch c {
	case '\t':
		return column + 4 - column%4
	case '\r', '\n':
		return column
	}
	return column + 1
}

// number reads a few digits; 0 when they are too many to be a place in an order.
func number(digits string) int {
	n := 0
	for i := range len(digits) {
		if n = n*10 + int(digits[i]-'0'); n >= maxOrder {
			return 0
		}
	}
	return n
}

func isLetter(c byte) bool { return 'a' <= lower(c) && lower(c) <= 'z' }

func lower(c byte) byte {
	if 'A' <= c && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}
