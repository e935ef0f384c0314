package main

import (
	"bytes"
	"encoding/binary"
	"math"
)

// unitsPerEm is the grid that all fonts used here are drawn on.
const unitsPerEm = 2048

// letter is a glyph with the character that it is for. The first letter of a font is for none.
type letter struct {
	char rune
	code int // in the set of the font, of those that have codes
	glyph
}

// typeface is a font to be written.
type typeface struct {
	name            string
	letters         []letter // of rising codes, or of rising characters in a font without codes
	coded           bool     // glyphs are found by codes, not by characters
	ascent, descent int      // in units of the em, descent below 0
	weight          uint16   // 400 is regular, 700 bold
	fixed           bool     // every letter is as wide as any other
}

func (t typeface) box() [4]int {
	var all [4]int
	for _, l := range t.letters {
		if b, ok := l.glyph.box(); ok {
			all = join(all, b)
		}
	}
	return all
}

// table gathers big-endian numbers.
type table struct{ bytes.Buffer }

func (t *table) u16(values ...int) {
	for _, v := range values {
		_ = binary.Write(t, binary.BigEndian, uint16(v)) // a buffer takes all that is written
	}
}

func (t *table) u32(values ...uint32) {
	for _, v := range values {
		_ = binary.Write(t, binary.BigEndian, v)
	}
}

// bytes writes the font as a TrueType file. Layout of the tables: ISO/IEC 14496-22 (OpenType), chapter 5.
func (t typeface) bytes() []byte {
	glyphs, places := t.outlines()
	tables := []struct {
		tag  string
		data []byte
	}{ // in the order of their tags
		{"OS/2", t.windows()},
		{"cmap", t.characters()},
		{"glyf", glyphs},
		{"head", t.head()},
		{"hhea", t.horizontal()},
		{"hmtx", t.advances()},
		{"loca", places},
		{"maxp", t.maxima()},
		{"name", t.naming()},
		{"post", t.postscript()},
	}
	var out table
	n := len(tables)
	power := int(math.Log2(float64(n)))
	out.u32(0x00010000)
	out.u16(n, 16<<power, power, 16*n-16<<power)
	offset := 12 + 16*n
	for _, x := range tables {
		out.WriteString(x.tag)
		out.u32(checksum(x.data), uint32(offset), uint32(len(x.data)))
		offset += (len(x.data) + 3) &^ 3
	}
	head := 0
	for _, x := range tables {
		if x.tag == "head" {
			head = out.Len()
		}
		out.Write(x.data)
		out.Write(make([]byte, -len(x.data)&3))
	}
	file := out.Bytes()
	binary.BigEndian.PutUint32(file[head+8:], 0xB1B0AFBA-checksum(file))
	return file
}

func checksum(data []byte) uint32 {
	sum := uint32(0)
	for i, b := range data {
		sum += uint32(b) << (24 - 8*(i%4))
	}
	return sum
}

// outlines writes the tables glyf and loca.
func (t typeface) outlines() (glyphs, places []byte) {
	var g, l table
	for _, x := range t.letters {
		l.u32(uint32(g.Len()))
		x.glyph.write(&g)
		g.Write(make([]byte, -g.Len()&3))
	}
	l.u32(uint32(g.Len()))
	return g.Bytes(), l.Bytes()
}

// write puts a simple glyph without instructions; an empty one takes no bytes.
func (g glyph) write(t *table) {
	box, ok := g.box()
	if !ok {
		return
	}
	t.u16(len(g.contours))
	t.u16(box[:]...)
	end := -1
	for _, c := range g.contours {
		end += len(c)
		t.u16(end)
	}
	t.u16(0) // bytes of instructions
	var flags, xs, ys table
	x, y := 0, 0
	for _, c := range g.contours {
		for _, p := range c {
			flag := byte(0)
			if p.on {
				flag = 0x01
			}
			flag |= step(&xs, p.x-x, 0x02, 0x10) | step(&ys, p.y-y, 0x04, 0x20)
			flags.WriteByte(flag)
			x, y = p.x, p.y
		}
	}
	t.Write(flags.Bytes())
	t.Write(xs.Bytes())
	t.Write(ys.Bytes())
}

// step writes the way to the next point in as few bytes as it takes, and gives the flags that say so.
func step(t *table, d int, short, same byte) byte {
	switch {
	case d == 0:
		return same
	case d > 0 && d < 256:
		t.WriteByte(byte(d))
		return short | same
	case d < 0 && d > -256:
		t.WriteByte(byte(-d))
		return short
	}
	t.u16(d)
	return 0
}

func (t typeface) head() []byte {
	var h table
	h.u32(0x00010000, 0x00010000, 0, 0x5F0F3CF5)
	h.u16(0x000B, unitsPerEm)
	h.u32(0, 0, 0, 0) // made and changed at no time, so that the same recipe gives the same bytes
	box := t.box()
	h.u16(box[:]...)
	bold := 0
	if t.weight >= 700 {
		bold = 1
	}
	h.u16(bold, 8, 2, 1, 0) // style, least size in pixels, direction, long offsets, format of glyf
	return h.Bytes()
}

func (t typeface) horizontal() []byte {
	var h table
	widest, left, right := 0, 0, math.MaxInt16
	for _, l := range t.letters {
		widest = max(widest, l.advance)
		if b, ok := l.glyph.box(); ok {
			left, right = min(left, b[0]), min(right, l.advance-b[2])
		}
	}
	h.u32(0x00010000)
	h.u16(t.ascent, t.descent, 0, widest, left, right, t.box()[2], 1, 0, 0, 0, 0, 0, 0, 0, len(t.letters))
	return h.Bytes()
}

func (t typeface) advances() []byte {
	var h table
	for _, l := range t.letters {
		box, _ := l.glyph.box()
		h.u16(l.advance, box[0])
	}
	return h.Bytes()
}

func (t typeface) maxima() []byte {
	points, contours := 0, 0
	for _, l := range t.letters {
		n := 0
		for _, c := range l.contours {
			n += len(c)
		}
		points, contours = max(points, n), max(contours, len(l.contours))
	}
	var m table
	m.u32(0x00010000)
	m.u16(len(t.letters), points, contours, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0)
	return m.Bytes()
}

// characters writes the table cmap, with one list: of 0xF000 and the code where the letters have codes, which is how
// readers of a PDF file look for them (ISO 32000-1, 9.6.6.4), else of Unicode.
func (t typeface) characters() []byte {
	kind, number := 1, func(l letter) int { return int(l.char) }
	if t.coded {
		kind, number = 0, func(l letter) int { return 0xf000 + l.code }
	}
	var m table
	m.u16(0, 1, 3, kind)
	m.u32(12)
	m.Write(t.segments(number))
	return m.Bytes()
}

// segments writes a list of format 4: a segment for each run of numbers that rise with their glyphs.
func (t typeface) segments(number func(letter) int) []byte {
	type segment struct{ first, last, glyph int }
	var segments []segment
	for i, l := range t.letters[1:] {
		c, g := number(l), i+1
		if n := len(segments) - 1; n >= 0 && segments[n].last == c-1 && segments[n].glyph+c-segments[n].first == g {
			segments[n].last = c
			continue
		}
		segments = append(segments, segment{c, c, g})
	}
	segments = append(segments, segment{0xffff, 0xffff, 0})
	n := len(segments)
	power := int(math.Log2(float64(n)))
	var m table
	m.u16(4, 16+8*n, 0, 2*n, 2<<power, power, 2*n-2<<power)
	for _, s := range segments {
		m.u16(s.last)
	}
	m.u16(0)
	for _, s := range segments {
		m.u16(s.first)
	}
	for _, s := range segments {
		m.u16(s.glyph - s.first)
	}
	m.Write(make([]byte, 2*n))
	return m.Bytes()
}

// naming writes the table name: family, style, full and PostScript name for Windows in English.
func (t typeface) naming() []byte {
	names := []struct {
		id   int
		text string
	}{{1, t.name}, {2, "Regular"}, {4, t.name}, {6, t.name}}
	var n, text table
	n.u16(0, len(names), 6+12*len(names))
	for _, x := range names {
		n.u16(3, 1, 0x409, x.id, 2*len(x.text), text.Len())
		for _, c := range x.text {
			text.u16(int(c))
		}
	}
	n.Write(text.Bytes())
	return n.Bytes()
}

// postscript writes the table post in format 3: the glyphs have no names, as nothing looks for them by name.
func (t typeface) postscript() []byte {
	var p table
	p.u32(0x00030000, 0)
	p.u16(-200, 100)
	pitch := uint32(0)
	if t.fixed {
		pitch = 1
	}
	p.u32(pitch, 0, 0, 0, 0)
	return p.Bytes()
}

// windows writes the table OS/2, version 4.
func (t typeface) windows() []byte {
	var w table
	w.u16(4, t.letters[1].advance, int(t.weight), 5, 0)
	w.u16(1331, 1433, 0, 286, 1331, 1433, 0, 983, 102, 530, 0) // sub- and superscripts, strike: usual shares, not used
	w.Write(make([]byte, 10))                                  // class of design: not told
	w.u32(1, 0, 0, 0)                                          // Basic Latin
	w.WriteString("    ")
	style := 0x40
	if t.weight >= 700 {
		style = 0x20
	}
	first, last := int(t.letters[1].char), int(t.letters[len(t.letters)-1].char)
	pages := uint32(1)
	if t.coded {
		first, last, pages = 0xf000+t.letters[1].code, 0xf000+t.letters[len(t.letters)-1].code, 1<<31
	}
	w.u16(style, first, last, t.ascent, t.descent, 0, t.ascent, -t.descent)
	w.u32(pages, 0) // of Latin 1, or of codes
	w.u16(capHeight(t)*3/4, capHeight(t), 0, ' ', 1)
	return w.Bytes()
}
