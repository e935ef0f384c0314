package sheet

import (
	"refitcard/render/document"
)

// Sizes on a label of 95 by 55 mm, in points.
const (
	labelCount     = 46.0
	labelName      = 18.0
	leastName      = 11.0
	labelStep      = 26.0
	labelWords     = 11.0
	labelTorque    = 12.0
	leastTorque    = 9.0
	letterSide     = 9.0  // mm, of the black square with the bag's letter
	labelStepsDown = 29.4 // mm from the top of what is printed to the baseline of the steps
	scrapWide      = 29.0
	scrapHigh      = 10.2
)

var white = Colour{255, 255, 255}

// label draws one label at its place.
func (p *labeller) label(c *canvas, l *document.Label, x, y float64) {
	k := p.k
	left, right, top := x+p.inset, x+p.stock.Width-p.inset, y+p.inset
	c.box("label", x, y, p.stock.Width, p.stock.Height, itoa(l.Count)+" "+l.Name)
	size := labelCount * k
	for size > 12 && textWidth(Bold, itoa(l.Count), size) > 33*k {
		size--
	}
	base := top + capHeight(labelCount*k)
	c.words(ink{face: Bold, size: size}, left, base, itoa(l.Count))
	c.box("count", left, top, textWidth(Bold, itoa(l.Count), size), capHeight(labelCount*k), itoa(l.Count))
	until := right
	if l.Letter != "" {
		until = right - p.letter(c, l.Letter, right, top) - 2.5
	}
	p.names(c, l, column{left + 35*k, until - left - 35*k}, right, top)
	p.steps(c, l, left, right, top+labelStepsDown*k)
	p.foot(c, x, y)
}

// letter puts the letter of the bag in white on black and gives the width of the black.
func (p *labeller) letter(c *canvas, s string, right, top float64) float64 {
	high := letterSide * p.k
	size := 17 * p.k
	for size > 9 && textWidth(Bold, s, size) > high-1.5 {
		size -= 0.5
	}
	wide := max(high, textWidth(Bold, s, size)+2)
	c.fill(right-wide, top, wide, high, Colour{})
	c.box("letter", right-wide, top, wide, high, s)
	c.wordsMiddle(ink{face: Bold, size: size, colour: white}, right-wide/2, top+(high+capHeight(size))/2, s)
	return wide
}

// names puts the name, and below it which of several, the spec and what it belongs to, as far as there is room above the steps.
// The name keeps off the letter, and so do lines beside it; those below it are as wide as the label.
func (p *labeller) names(c *canvas, l *document.Label, room column, right, top float64) {
	k, left, until := p.k, room.x, room.right()
	size, least := labelName*k, max(leastName*k, 9)
	name := p.set.plain(Bold, l.Name)
	lines := name.lines(size, until-left)
	for size > least && len(lines) > 1 {
		size = max(size-0.5, least)
		lines = name.lines(size, until-left)
	}
	if len(lines) > 2 {
		lines = append(lines[:1:1], p.set.plain(Bold, cutWords(Bold, rest(lines[1:]), size, until-left)).lines(size, until-left)[0])
	}
	lead := size * 1.2 * millimetre
	base := top + capHeight(size)
	c.box("name", left, top, until-left, capHeight(size)+float64(len(lines)-1)*lead, l.Name)
	c.lines(lines, ink{face: Bold, size: size}, left, base, lead)
	small := p.wordSize()
	base = max(base+float64(len(lines)-1)*lead+1.5+capHeight(small)*1.15, top+capHeight(labelCount*k))
	last := top + (labelStepsDown*k - capHeight(labelStep*k)) - 2.2*k
	down := small * 1.22 * millimetre
	holds := ""
	if l.Holds != "" {
		holds = "holds " + l.Holds
	}
	// Which of several comes first: a bag of the other wheel is the mistake that the label is there to stop. What it holds comes
	// last, and is left out where it does not fit whole; a spec that does not is seen to go on.
	w := labelLines{labeller: p, canvas: c, size: small, down: down, x: left, beside: until - left, below: right - left, letter: top + letterSide*k, base: base, free: max(int((last+hair-base)/down)+1, 0)}
	w.put(Bold, l.Each)
	w.put(Regular, l.Detail)
	if w.fits(Regular, holds) {
		w.put(Regular, holds)
	}
}

// labelLines puts the small lines between the name and the steps of a label.
type labelLines struct {
	*labeller
	*canvas
	size, down    float64
	x             float64
	beside, below float64 // widths beside the letter and below it
	letter        float64 // where that ends
	base          float64 // of the next line
	free          int     // how many lines there is room for
}

// width is that of the next line.
func (w *labelLines) width() float64 {
	if w.base-capHeight(w.size)*1.15 > w.letter+0.5 {
		return w.below
	}
	return w.beside
}

func (w *labelLines) fits(face Face, words string) bool {
	return len(w.set.plain(face, words).lines(w.size, w.width())) <= w.free
}

// put puts words on as many lines as are free; the last of them is cut where they do not fit.
func (w *labelLines) put(face Face, words string) {
	lines := w.set.plain(face, words).lines(w.size, w.width())
	if n := w.free; n > 0 && len(lines) > n {
		cut := cutWords(face, rest(lines[n-1:]), w.size, w.width())
		lines = append(lines[:n-1:n-1], w.set.plain(face, cut).lines(w.size, w.width())[0])
	}
	for _, one := range lines[:min(len(lines), w.free)] {
		w.lines([]line{one}, ink{size: w.size}, w.x, w.base, 0)
		w.base += w.down
		w.free--
	}
}

// rest joins lines again.
func rest(lines []line) string {
	s := ""
	for _, l := range lines {
		for i, a := range l.atoms {
			if a.space > 0 || i == 0 && s != "" {
				s += " "
			}
			s += a.text
		}
	}
	return s
}

// steps puts where the thing came off and where it goes back, the torque, or that it does not go back.
func (p *labeller) steps(c *canvas, l *document.Label, left, right, base float64) {
	k := p.k
	small, size := p.wordSize(), labelStep*k
	i, bold := ink{size: small}, ink{face: Bold, size: size}
	behind := func(size float64) float64 { // where the step in which it goes back begins
		return max(left+35*k, left+textWidth(Regular, "off step", small)+1.8+textWidth(Bold, l.Off, size)+9)
	}
	for l.Back != "" && bold.size > 11 && behind(bold.size)+textWidth(Regular, "back on step", small)+1.8+textWidth(Bold, l.Back, bold.size) > right {
		bold.size--
	}
	at := left + c.words(i, left, base, "off step") + 1.8
	end := at + c.words(bold, at, base, l.Off)
	c.box("off", left, base-capHeight(bold.size), end-left, capHeight(bold.size), l.Off)
	switch {
	case l.Scrap:
		p.scrap(c, right, base)
		return
	case l.Back == "":
		words := "stays off"
		c.words(ink{face: Bold, size: max(labelTorque*k, leastTorque)}, max(left+35*k, end+5), base, words)
		return
	}
	back := behind(bold.size)
	p.arrow(c, max(end+2, back-11.5), back-2, base-capHeight(bold.size)*0.45)
	at = back + c.words(i, back, base, "back on step") + 1.8
	end = at + c.words(bold, at, base, l.Back)
	c.box("back", back, base-capHeight(bold.size), end-back, capHeight(bold.size), l.Back)
	if l.Torque == "" {
		return
	}
	t := ink{face: Bold, size: max(labelTorque*k, leastTorque)}
	if w := textWidth(Bold, l.Torque, t.size); end+2+w > right {
		base += 6.8 * k // its own line
	}
	for t.size > 7.7 && textWidth(Bold, l.Torque, t.size) > right-left {
		t.size -= 0.1
	}
	w := c.wordsRight(t, right, base, l.Torque)
	c.box("torque", right-w, base-capHeight(t.size), w, capHeight(t.size), l.Torque)
}

// scrap is the black bar of what does not go back.
func (p *labeller) scrap(c *canvas, right, base float64) {
	w, h := scrapWide*p.k, scrapHigh*p.k
	size := 17 * p.k
	top := base - capHeight(size) - (h-capHeight(size))/2
	c.fill(right-w, top, w, h, Colour{})
	c.box("scrap", right-w, top, w, h, "SCRAP")
	c.wordsMiddle(ink{face: Bold, size: size, colour: white}, right-w/2, base, "SCRAP")
}
