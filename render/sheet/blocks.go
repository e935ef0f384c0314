package sheet

import "refitcard/render/document"

// pieces turns the blocks of a card into pieces in order.
func (l *layout) pieces() []piece {
	var ps []piece
	afterHeading := true
	for i, b := range l.card.Blocks {
		switch b := b.(type) {
		case document.Heading:
			ps = append(ps, l.heading(b))
		case document.Facts:
			ps = append(ps, l.facts(b)...)
		case document.Line:
			ps = append(ps, l.leadLine(b))
		case document.Glance:
			ps = append(ps, l.glance(b)...)
		case document.Stage:
			ps = append(ps, l.stage(b))
			afterHeading = true
			continue
		case document.Panel:
			p := l.panel(b)
			if leadsToStep(l.card.Blocks[i+1:]) {
				p.keep = hard
			}
			ps = append(ps, p)
			continue
		case document.Note:
			ps = append(ps, l.note(b))
		case document.Figure:
			ps = append(ps, l.figure(b))
		case document.Step:
			ps = append(ps, l.step(b, afterHeading)...)
			afterHeading = false
		case document.Layout:
			ps = append(ps, l.drawing(b))
		case document.Pile:
			ps = append(ps, l.pile(b))
		case document.TorqueTable:
			ps = append(ps, l.torqueTable(b)...)
		case document.After:
			for i, line := range b.Lines {
				ps = append(ps, l.afterLine(line, i == 0))
			}
		}
	}
	for i := range ps { // the last message of the job stays with what follows, but for the last piece of all
		if i == len(ps)-1 {
			ps[i].keep = free
		}
	}
	return ps
}

// leadsToStep tells whether a message stands right before a step; those of the whole job stand before the lists.
func leadsToStep(rest []document.Block) bool {
	for _, b := range rest {
		switch b.(type) {
		case document.Panel:
			continue
		case document.Step:
			return true
		}
		return false
	}
	return false
}

func (l *layout) heading(b document.Heading) piece {
	cap := capHeight(l.m.heading)
	return piece{name: b.Text, h: cap + 1, keep: hard, gapA: 3 * l.m.u, draw: func(c *canvas, y float64) {
		c.box("heading", 0, y, l.grid.live, cap, b.Text)
		c.words(ink{face: Bold, size: l.m.heading, role: Heading2}, 0, y+cap, b.Text)
	}}
}

func (l *layout) stage(b document.Stage) piece {
	cap := capHeight(l.m.heading)
	return piece{name: b.Title, at: b.At, stage: true, h: cap + below(l.m.heading), keep: hard, gapA: 3 * l.m.u, rule: 1.5, gapB: 3.2 * l.m.u, draw: func(c *canvas, y float64) {
		c.box("stage", 0, y, l.grid.live, cap, b.Title)
		c.words(ink{face: Bold, size: l.m.heading, role: Heading2}, 0, y+cap, b.Title)
		c.wordsRight(ink{size: l.m.caption}, l.grid.live, y+cap, b.Range)
	}}
}

// facts are laid on the grid: label above, value below.
func (l *layout) facts(b document.Facts) []piece {
	var ps []piece
	n := len(l.grid.cols)
	if n == 4 && len(b.Facts) == 3 {
		n = 3
	}
	for from := 0; from < len(b.Facts); from += n {
		row := b.Facts[from:min(from+n, len(b.Facts))]
		w := (l.grid.live - float64(n-1)*between) / float64(n)
		most := 1
		for _, f := range row {
			most = max(most, l.set.plain(Bold, f.Value).count(l.m.s, w))
		}
		label := capHeight(l.m.label)
		first := label + 1.4 + l.m.cap + 1.2
		ps = append(ps, piece{name: "facts", gapA: 2 * l.m.u, h: first + float64(most-1)*l.m.lead + below(l.m.s) + 0.6*l.m.u, draw: func(c *canvas, y float64) {
			for i, f := range row {
				x := float64(i) * (w + between)
				c.box("fact", x, y, w, first, f.Label+": "+f.Value)
				c.origin(f.At, "", x, y, w, first)
				c.words(ink{size: l.m.label}, x, y+label, f.Label)
				c.lines(l.set.plain(Bold, f.Value).lines(l.m.s, w), ink{size: l.m.s}, x, y+first, l.m.lead)
			}
		}})
	}
	return ps
}

// afterLine is a line of what remains when the last step is done, on the text edge; a rule parts the first from the steps.
func (l *layout) afterLine(b document.Line, first bool) piece {
	width := l.grid.live - l.grid.textX
	words := l.set.mixed(b.Lead, b.Runs).at(l.m.s, width)
	p := piece{name: b.Lead, at: b.At, gapA: 1.6 * l.m.u, h: l.m.cap + words.tall(l.m.lead) + below(l.m.s), draw: func(c *canvas, y float64) {
		c.box("after", l.grid.textX, y, width, l.m.cap, b.Lead)
		c.lines(words.lines(), ink{size: l.m.s}, l.grid.textX, y+l.m.cap, l.m.lead)
	}}
	if first {
		p.gapA, p.rule, p.gapB = 3*l.m.u, 1.5, 2.6*l.m.u
	}
	return p
}

func (l *layout) leadLine(b document.Line) piece {
	words := l.set.mixed(b.Lead, b.Runs).at(l.m.s, l.grid.live)
	name := b.Lead
	if name == "" {
		name = "introduction"
	}
	return piece{name: name, at: b.At, gapA: 1.6 * l.m.u, h: l.m.cap + words.tall(l.m.lead) + below(l.m.s), draw: func(c *canvas, y float64) {
		c.box("line", 0, y, l.grid.live, l.m.cap, b.Lead)
		c.lines(words.lines(), ink{size: l.m.s}, 0, y+l.m.cap, l.m.lead)
	}}
}

func (l *layout) note(b document.Note) piece {
	width := l.grid.text
	words := l.set.of(b.Runs).at(l.m.s, width)
	h := l.m.cap + words.tall(l.m.lead) + below(l.m.s)
	return piece{name: "note", at: b.At, gapA: 2.3 * l.m.u, h: h, draw: func(c *canvas, y float64) {
		c.box("note", l.grid.textX, y, width, h, "")
		c.upright(l.grid.tickX+l.grid.tick, y, y+h, 0.5, Colour{})
		c.lines(words.lines(), ink{size: l.m.s}, l.grid.textX, y+l.m.cap, l.m.lead)
	}}
}

// figure is two columns wide, left on the text edge, with its caption below.
func (l *layout) figure(b document.Figure) piece {
	w := min(2*43.5+between, l.grid.text)
	ratio := pictureRatio(b.Type, b.Data)
	h := w * ratio
	if most := l.room() * 0.45; h > most {
		h = most
		w = h / ratio
	}
	caption := l.set.plain(Regular, b.Caption).at(l.m.caption, l.grid.text)
	lead := l.m.caption * 1.3 * millimetre
	whole := h + 1.5 + float64(caption.n)*lead
	return piece{name: "figure", at: b.At, gapA: 2.3 * l.m.u, h: whole, draw: func(c *canvas, y float64) {
		c.box("figure", l.grid.textX, y, w, h, b.Caption)
		if b.Data != nil {
			c.op(Image{X: c.left + l.grid.textX, Y: y, W: w, H: h, Key: b.Key, Type: b.Type, Data: b.Data, Alt: b.Caption})
		}
		c.lines(caption.lines(), ink{size: l.m.caption}, l.grid.textX, y+h+1.5+capHeight(l.m.caption), lead)
	}}
}

// panel is a safety message: full width, word and triangle at the left, hazard, consequence and what to do at the right.
func (l *layout) panel(b document.Panel) piece {
	border := map[string]float64{"DANGER": 5, "WARNING": 3.5, "CAUTION": 2, "NOTICE": 1}[b.Signal]
	edge := border * millimetre
	pad := 2.4*l.m.u + edge
	cellW := min(40.6*max(l.m.s/12.8, 0.85), l.grid.live*0.4)
	band := 0.0
	if l.grid.narrow {
		cellW, band = 0, 2.3*l.m.cap+2*1.2+edge
	}
	x := cellW + 2.4*l.m.u + 1
	width := l.grid.live - x - pad
	text := l.set.hazard(b).at(l.m.s, width)
	indent := 3.2 * max(l.m.s/12.8, 0.8)
	avoid := l.set.of(b.Avoid).at(l.m.s, width-indent)
	inner := l.m.cap + float64(text.n+avoid.n-1)*l.m.lead + below(l.m.s)*0.6
	h := max(inner+2*pad, 2.3*l.m.cap+2*pad) + band
	if l.grid.narrow {
		h = inner + 2*pad + band
	}
	return piece{name: b.Signal, at: b.At, gapA: 2.2 * l.m.u, gapB: 0, h: h + 0.8*l.m.u, draw: func(c *canvas, y float64) {
		c.box("panel "+b.Signal, 0, y, l.grid.live, h, "")
		l.signal(c, b.Signal, y, h, cellW, band)
		c.op(Rect{X: c.left, Y: y, W: l.grid.live, H: h, Stroke: border, Colour: l.borderColour(b.Signal)})
		top := y + band + pad
		if !l.grid.narrow {
			top = y + (h-inner)/2
		}
		base := top + l.m.cap
		c.lines(text.lines(), ink{size: l.m.s}, x, base, l.m.lead)
		base += float64(text.n) * l.m.lead
		if avoid.n > 0 {
			c.pointer(x, base, l.m.cap)
			c.lines(avoid.lines(), ink{size: l.m.s}, x+indent, base, l.m.lead)
		}
	}}
}

func (l *layout) borderColour(signal string) Colour {
	if l.opt.Colour && signal == "NOTICE" {
		return Colour{0, 114, 206}
	}
	return Colour{}
}

// signalFill is the cell's colour: black, grey or white, told apart without colour; on colour the approximations of ANSI
// Z535.1 (the standard gives Munsell notations).
func (l *layout) signalFill(signal string) (fill, word Colour, filled bool) {
	white := Colour{255, 255, 255}
	switch {
	case signal == "DANGER" && l.opt.Colour:
		return Colour{200, 16, 46}, white, true
	case signal == "DANGER":
		return Colour{}, white, true
	case signal == "WARNING" && l.opt.Colour:
		return Colour{229, 114, 0}, Colour{}, true
	case signal == "WARNING":
		return Grey(0.8), Colour{}, true
	case signal == "CAUTION" && l.opt.Colour:
		return Colour{255, 209, 0}, Colour{}, true
	case signal == "NOTICE" && l.opt.Colour:
		return white, Colour{0, 114, 206}, false
	}
	return white, Colour{}, false
}

// signal draws the cell with the triangle and the word.
func (l *layout) signal(c *canvas, signal string, y, h, cellW, band float64) {
	fill, word, filled := l.signalFill(signal)
	w, ch := cellW, h
	if l.grid.narrow {
		w, ch = l.grid.live, band
	}
	if filled {
		c.fill(0, y, w, ch, fill)
	}
	if l.grid.narrow {
		c.rule(0, l.grid.live, y+band, 1, Colour{})
	} else {
		c.upright(cellW, y, y+h, 1, Colour{})
	}
	size := l.m.s
	tri := 2.3 * l.m.cap
	if signal == "NOTICE" {
		tri = 0
	}
	ww := textWidth(Bold, signal, size)
	for tri*1.1+ww+5 > w && size > 8 && !l.grid.narrow {
		size -= 0.25
		ww = textWidth(Bold, signal, size)
	}
	gap := 2.4
	if tri == 0 {
		gap = 0
	}
	x := (w - tri*1.1 - gap - ww) / 2
	mid := y + ch/2
	if tri > 0 {
		l.triangle(c, x, mid, tri, word, fill)
	}
	c.words(ink{face: Bold, size: size, colour: word}, x+tri*1.1+gap, mid+capHeight(size)/2, signal)
}

// triangle is the alert sign: a solid triangle with a mark of exclamation in the colour of the ground.
func (l *layout) triangle(c *canvas, x, mid, side float64, ink, ground Colour) {
	w, h := side*1.1, side
	top := mid - h/2
	c.shape(ink, x+w/2, top, x+w, top+h, x, top+h)
	cx := x + w/2
	c.shape(ground, cx-0.07*w, top+0.38*h, cx+0.07*w, top+0.38*h, cx+0.04*w, top+0.7*h, cx-0.04*w, top+0.7*h)
	c.op(Circle{X: c.left + cx, Y: top + 0.83*h, R: 0.055 * w, Filled: true, Fill: ground})
}

// pile draws a stack in order, the top one first, with its target.
func (l *layout) pile(b document.Pile) piece {
	h := float64(len(b.Layers)+1)*l.m.lead + 3
	return piece{name: "stack", at: b.At, gapA: 2.3 * l.m.u, h: h, draw: func(c *canvas, y float64) {
		c.box("stack", l.grid.textX, y, l.grid.text, h, b.Name)
		base := y + l.m.cap
		c.lines(l.set.mixed(b.Name+":", []document.Run{{Text: b.Target}}).lines(l.m.s, l.grid.text), ink{size: l.m.s}, l.grid.textX, base, l.m.lead)
		for i := len(b.Layers) - 1; i >= 0; i-- {
			base += l.m.lead
			c.frame(l.grid.textX, base-l.m.cap-1.1, l.grid.text*0.8, l.m.lead, 0.75)
			c.words(ink{size: l.m.caption}, l.grid.textX+2, base-0.3, b.Layers[i])
		}
	}}
}
