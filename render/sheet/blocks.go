package sheet

import "refitcard/render/document"

// pieces adds to ps the blocks of a card, as pieces in order.
func (l *layout) pieces(ps []piece) []piece {
	if ps == nil {
		ps = make([]piece, 0, max(l.made, 24+2*len(l.card.Blocks)))
	}
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
			ps = l.glance(ps, b)
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
			ps = l.step(ps, l.stepAt(i), afterHeading)
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
	if n := len(ps); n > 0 { // the last message of the job stays with what follows, but for the last piece of all
		ps[n-1].keep = free
	}
	l.made = len(ps)
	return ps
}

// stepAt gives block i, which is a step: a copy that is made once, and not for each size of type.
func (l *layout) stepAt(i int) *document.Step {
	if l.steps == nil {
		l.steps = make([]*document.Step, len(l.card.Blocks))
	}
	if l.steps[i] == nil {
		s := l.card.Blocks[i].(document.Step)
		l.steps[i] = &s
	}
	return l.steps[i]
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

// pile draws a stack in order, the top one first, with its target.
func (l *layout) pile(b document.Pile) piece {
	head := l.set.mixed(b.Name+":", []document.Run{{Text: b.Target}}).at(l.m.s, l.grid.text)
	wide := l.grid.text * 0.8
	for _, s := range b.Layers {
		wide = max(wide, min(textWidth(Regular, s, l.m.caption)+4, l.grid.text))
	}
	lead := l.m.caption * 1.3 * millimetre
	var layers []passage
	h := l.m.cap + head.tall(l.m.lead) + below(l.m.s) + 0.6
	top := h
	for i := len(b.Layers) - 1; i >= 0; i-- {
		words := l.set.plain(Regular, b.Layers[i]).at(l.m.caption, wide-4)
		layers = append(layers, words)
		h += l.m.lead + words.tall(lead)
	}
	return piece{name: "stack", at: b.At, gapA: 2.3 * l.m.u, h: h + 1, draw: func(c *canvas, y float64) {
		c.box("stack", l.grid.textX, y, l.grid.text, h, b.Name)
		c.lines(head.lines(), ink{size: l.m.s}, l.grid.textX, y+l.m.cap, l.m.lead)
		at := y + top
		for _, words := range layers {
			high := l.m.lead + words.tall(lead)
			c.frame(l.grid.textX, at, wide, high, 0.75)
			c.lines(words.lines(), ink{size: l.m.caption}, l.grid.textX+2, at+(l.m.lead+capHeight(l.m.caption))/2, lead)
			at += high
		}
	}}
}
