package sheet

import (
	"strings"

	"refitcard/render/document"
)

// A header has three rows: number, revision, date and page; the title; the machine and the digest. The scan code stands in
// the top right corner: hands hold a card by its lower half.
const (
	headerRowGap = 2.6 // mm
	headerSize   = 13.5
	smallSize    = 11.0
)

// module is the side of a square of the scan code in mm. Squares of 0.6 and 0.55 mm are read from a sharp picture of 150 dots
// to the inch; from one that is blurred over three dots, one code in seven was not (measured with zbar on the library).
func (l *layout) module() float64 {
	if l.grid.narrow {
		return 0.65
	}
	return 0.7
}

// quiet is the white that the scan code needs around it: 4 squares, as ISO/IEC 18004 has it (from memory).
func (l *layout) quiet() float64 { return 4 * l.module() }

// rise is how far the first row is moved down, in mm, where the margin is no wider than the edge of a pouch: dots and
// ascenders stand 0.24 mm above capitals.
func (l *layout) rise() float64 {
	if l.grid.top > 10 {
		return 0
	}
	return 0.25
}

func (l *layout) codeSize() float64 { return float64(len(l.code)) * l.module() }

// kindSize is the size of the kind of sheet, which stands in the title's place with the job's title after it.
const (
	kindSize  = 20.0
	afterKind = 13.5
)

// setTitle is a title at its size in points.
type setTitle struct {
	kind, title string
	lines       []line
	size        float64
}

// titleLines breaks the title at the largest size that keeps it on one line; the least size takes two. It stands on every page.
func (l *layout) titleLines(head document.Header) (lines []line, size float64) {
	if t := l.title; t.lines == nil || t.kind != head.Kind || t.title != head.Title {
		lines, size := l.breakTitle(head)
		l.title = setTitle{head.Kind, head.Title, lines, size}
	}
	return l.title.lines, l.title.size
}

func (l *layout) breakTitle(head document.Header) (lines []line, size float64) {
	room := l.grid.live - l.codeSize() - l.quiet()
	if head.Kind != "" {
		kind := l.set.plain(Bold, head.Kind)
		room -= kind.lines(kindSize, room)[0].width + 4
		p := l.set.plain(Regular, head.Title)
		for size = afterKind; size > 10.5 && p.count(size, room) > 1; size -= 0.5 {
		}
		return p.even(size, room), size
	}
	top := 20.0
	if l.grid.small {
		top = 15
	}
	p := l.set.plain(Bold, head.Title)
	for size = top; size > 13 && p.count(size, room) > 1; size -= 0.5 {
	}
	size = max(size, 13)
	return p.even(size, room), size
}

func (l *layout) headerHeight() float64 { return l.headHeight(l.card.Header) }

// headHeight is the height of a header with its rule, and the white below it.
func (l *layout) headHeight(head document.Header) float64 {
	lines, size := l.titleLines(head)
	tall := capHeight(size)
	if head.Kind != "" {
		tall = capHeight(kindSize)
	}
	base := l.rise() + capHeight(headerSize) + headerRowGap + tall + float64(len(lines)-1)*size*1.15*millimetre + headerRowGap + capHeight(smallSize)
	h := max(base, l.machineRow(head, base).digestBase) + below(smallSize)
	h = max(h+1.2, l.codeSize()+l.quiet()) + 2.5*millimetre
	if !l.grid.small {
		h = max(h, 20)
	}
	return h + 3.2
}

// machineRow is the third row of a header: the machine, and the digest with its right edge and its baseline in mm from the top margin.
type machineRow struct {
	machine                 string
	size                    float64
	digestRight, digestBase float64
}

// digestSize is of what nobody needs while working, in points.
const digestSize = 9.0

// machineRow lays the third row out, its baseline in mm from the top margin. Where machine and digest would meet on narrow paper,
// the digest goes under the scan code.
func (l *layout) machineRow(h document.Header, base float64) machineRow {
	variant := ""
	if h.Variant != "" {
		variant = ", " + h.Variant
	}
	row := machineRow{machine: h.Machine + variant, size: smallSize, digestBase: base}
	row.digestRight = l.grid.live - l.codeSize() - l.quiet()
	digest := textWidth(Mono, h.Digest, digestSize)
	room := row.digestRight - digest - 3
	if under := l.codeSize() + l.quiet(); l.grid.narrow && textWidth(Regular, row.machine, smallSize) > room {
		room, row.digestRight = row.digestRight, l.grid.live
		row.digestBase = max(base, under+capHeight(digestSize))
		if base-capHeight(smallSize) > under { // then the whole row stands below the code
			room = l.grid.live - digest - 3
		}
	}
	for row.size > 9 && textWidth(Regular, row.machine, row.size) > room {
		row.size -= 0.25
	}
	if textWidth(Regular, row.machine, row.size) > room {
		row.machine = cutWords(Regular, h.Machine, row.size, room-textWidth(Regular, variant, row.size)) + variant
	}
	return row
}

func (l *layout) header(c *canvas, page, pages int) { l.head(c, l.card.Header, page, pages) }

// head draws the header of a page.
func (l *layout) head(c *canvas, h document.Header, page, pages int) {
	y := l.grid.top
	size := l.codeSize()
	right := l.grid.live - size - l.quiet()
	from := len(c.page.Ops)
	base := y + l.rise() + capHeight(headerSize)
	row := l.firstRow(h)
	x := c.words(ink{face: Bold, size: row.size}, 0, base, row.number) + rowGap
	if row.revision != "" {
		x += c.words(ink{face: Bold, size: row.size}, x, base, row.revision) + rowGap
	}
	c.words(ink{size: smallSize}, x, base, row.date)
	paging := newParagraph([]document.Run{{Text: "Page "}, {Text: itoa(page + 1), Bold: true}, {Text: " of "}, {Text: itoa(pages), Bold: true}})
	if lines := paging.lines(smallSize, l.grid.live); len(lines) == 1 {
		c.lines(lines, ink{size: smallSize}, right-lines[0].width, base, 0)
	}
	lines, title := l.titleLines(h)
	tall, titleX := capHeight(title), 0.0
	if h.Kind != "" {
		tall = capHeight(kindSize)
	}
	base += headerRowGap + tall
	c.box("title", 0, base-tall, right, tall, strings.TrimSpace(h.Kind+" "+h.Title))
	heading := c.next()
	if h.Kind != "" {
		c.op(Text{X: c.left, Y: base, Face: Bold, Size: kindSize, String: h.Kind + " ", Role: Heading1, Block: heading})
		titleX = textWidth(Bold, h.Kind, kindSize) + 4
	}
	for n, ln := range lines {
		c.line(ln, ink{size: title, role: Heading1}, titleX, base+float64(n)*title*1.15*millimetre, heading, n+1 < len(lines))
	}
	base += float64(len(lines)-1)*title*1.15*millimetre + headerRowGap + capHeight(smallSize)
	third := l.machineRow(h, base-y)
	c.words(ink{size: third.size}, 0, base, third.machine)
	if h.Digest != "" {
		c.wordsRight(ink{face: Mono, size: digestSize}, third.digestRight, y+third.digestBase, h.Digest)
	}
	if l.code != nil {
		c.op(Modules{X: c.left + l.grid.live - size, Y: y, Size: l.module(), Dark: l.code, Alt: "scan code " + h.Payload})
		c.box("code", l.grid.live-size, y, size, size, h.Payload)
	}
	if page > 0 {
		c.page.saidBefore(from)
	}
	bottom := y + l.headHeight(h) - 3.2
	c.rule(0, l.grid.live, bottom-2.5*millimetre/2, 2.5, Colour{})
	c.origin(h.At, "", 0, y, right, bottom-y)
	c.box("header", 0, y, l.grid.live, bottom-y, h.Number+" "+h.Revision)
}

// rowGap is the white in mm between what stands in the first row.
const rowGap = 4.0

// firstRow is what stands before the count of pages, and the size of number and revision in points.
type firstRow struct {
	number, revision, date string
	size                   float64
}

// firstRow fits number, revision and date into a line: the date goes from long to short and to the foot, then number and revision go
// down to the size of the date, then the revision is said short, and the number at last is cut.
func (l *layout) firstRow(h document.Header) firstRow {
	room := l.grid.live - l.codeSize() - l.quiet() - textWidth(Regular, "Page 88 of 88", smallSize) - 3
	r := firstRow{number: h.Number, size: headerSize}
	if h.Revision != "" {
		r.revision = "Revision " + h.Revision
	}
	names := func() float64 {
		w := textWidth(Bold, r.number, r.size) + rowGap
		if r.revision != "" {
			w += textWidth(Bold, r.revision, r.size) + rowGap
		}
		return w
	}
	for r.size > smallSize && names()-rowGap > room {
		r.size -= 0.25
	}
	if names()-rowGap > room && r.revision != "" {
		r.revision = "Rev. " + h.Revision
	}
	if over := names() - rowGap - room; over > 0 {
		r.number = cutWords(Bold, r.number, r.size, textWidth(Bold, r.number, r.size)-over)
	}
	dates := []string{h.Date, h.ShortDate}
	if l.grid.narrow {
		dates = dates[1:]
	}
	for _, d := range dates {
		if r.date == "" && names()+textWidth(Regular, d, smallSize) <= room {
			r.date = d
		}
	}
	return r
}

// saidBefore marks what was drawn from an operation on as decoration: a reader that speaks has said it on the first page.
func (p *Page) saidBefore(from int) {
	for i, o := range p.Ops[from:] {
		switch o := o.(type) {
		case Text:
			o.Role = Artifact
			p.Ops[from+i] = o
		case Modules:
			o.Alt = ""
			p.Ops[from+i] = o
		}
	}
}

// cutWords shortens words to a width; the whole of them stands in the file's title.
func cutWords(face Face, s string, size, room float64) string {
	r := []rune(s)
	for len(r) > 1 && textWidth(face, string(r)+"…", size) > room {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + string(rune('0'+n%10))
}
