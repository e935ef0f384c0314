package sheet

import (
	"slices"
	"strings"

	"refitcard/render/document"
)

// step adds the pieces of a step: its panels, then a piece an act. After a heading no hairline stands above it.
func (l *layout) step(all []piece, b *document.Step, first bool) []piece {
	begin := len(all)
	for i := range b.Panels {
		x := l.panel(b.Panels[i])
		x.keep, x.step = hard, b.Name
		all = append(all, x)
	}
	panels := len(all) - begin
	said := repeats{l: l, step: b, panels: all[begin:]}
	for _, k := range b.Before {
		switch k := k.(type) {
		case document.Note:
			all = append(all, l.note(k))
		case document.Figure:
			all = append(all, l.figure(k))
		case document.Layout:
			all = append(all, l.drawing(k))
		case document.Pile:
			all = append(all, l.pile(k))
		}
	}
	if b.Condition.Set() {
		all = append(all, l.condition(&b.Condition))
		all[len(all)-1].at = b.At
	}
	before := panels // the first piece that stands on the page of the first act in any case
	for i, ps := panels, all[begin:]; i < len(ps); i++ {
		ps[i].keep, ps[i].step = hard, b.Name
		if i < panels+len(b.Before) {
			ps[i].keep = firm
			before = i + 1
		}
		if i > panels {
			ps[i].heads = said.heads()
		}
	}
	for i := range b.Acts {
		room := l.room() - l.continuedHeight() - 2.3*l.m.u
		if i == 0 {
			room = l.roomBelow(all[begin+before:], first)
		}
		from := len(all)
		all = l.act(all, &b.Acts[i], room)
		l.hang(all[from:], l.actKeep(i, len(b.Acts)), &said, &b.Acts[i])
		if i > 0 || before > panels {
			all[from].heads = said.heads()
		}
	}
	ps := all[begin:]
	if len(ps) == 0 {
		return all
	}
	ps[len(ps)-1].keep = free
	l.chooseHeads(ps)
	l.numbered(&ps[panels], b.Name, b.Condition.Takes, panels == len(ps)-1)
	gap := &ps[0]
	gap.gapA = 3 * l.m.u
	if !first {
		gap.rule, gap.gapB = 0.5, 3*l.m.u
	}
	return all
}

// repeats is what may be said again of a step above what opens a page inside it, made when it is asked for: most steps have one act.
type repeats struct {
	l      *layout
	step   *document.Step
	panels []piece // the step's messages
	both   [][]piece
}

// heads are the step's number and its messages, first as they are, then in brief.
func (r *repeats) heads() [][]piece {
	if r.both == nil {
		again := r.l.said.take(1 + len(r.panels))
		again = append(append(again, r.l.continued(r.step)), r.panels...)
		r.both = [][]piece{again, r.l.brief(again[0], r.step)}
	}
	return r.both
}

// roomBelow is the height that is left for an act below pieces that stand on its page in any case, and below the heading of the
// stage that it may open.
func (l *layout) roomBelow(ps []piece, first bool) float64 {
	room := l.room() - 2.3*l.m.u
	if first {
		room -= capHeight(l.m.heading) + below(l.m.heading)
	}
	for i := range ps {
		room -= ps[i].above() + ps[i].h
	}
	return room
}

// hang ties the pieces of one act together: they part at their seams, where not all of them fit on a page, and what is below a
// seam has the act repeated above it.
func (l *layout) hang(group []piece, last keep, said *repeats, a *document.Act) {
	b := said.step
	for k := range group {
		p := &group[k]
		p.step, p.keep = b.Name, hard
		if !p.at.Known() {
			p.at = a.At
		}
		switch {
		case k+1 == len(group):
			p.keep = last
		case group[k+1].seam:
			p.keep = firm
		}
		if p.seam {
			again, brief := said.heads()[0], said.heads()[1]
			named := []piece{l.continued(b, object(a)...)}
			p.heads = [][]piece{slices.Concat(again, l.repeated(b, a)), slices.Concat(named, again[1:]), slices.Concat(named, brief[1:])}
		}
	}
}

// actKeep holds a step of up to three acts together; a longer one breaks between acts, two at least on each side.
func (l *layout) actKeep(i, n int) keep {
	if n <= 3 {
		return soft
	}
	if i == 0 || i == n-2 {
		return hard
	}
	return free
}

// numbered puts the step's number on the first baseline of its first piece, and the hands-on time small below it: nobody
// needs it while working. Where it is too wide for the numbers' column, its words stand below each other; alone tells that
// the step has no other piece that gives them room.
func (l *layout) numbered(p *piece, name, takes string, alone bool) {
	base, rise, indent := p.base, 0.0, p.indent
	if base == 0 { // a number is higher than text, and nothing gives it room here
		rise = max(capHeight(l.numberSize(name, indent))-l.m.cap, 0)
		base = l.m.cap + rise
		p.h += rise
	}
	timeX := max(indent-1, 0) // inside the frame of a hold
	time := l.timeLines(takes, l.grid.tickX-timeX-0.6)
	if low := base + timeDown + capHeight(leastSize) + float64(len(time)-1)*leastSize*1.1*millimetre; alone && len(time) > 0 {
		p.h = max(p.h, low)
	}
	if l.measuring {
		return
	}
	draw := p.draw
	p.draw = func(c *canvas, y float64) {
		c.box("step", 0, y, l.grid.tickX, l.m.cap, name)
		c.words(ink{face: Bold, size: l.numberSize(name, indent)}, indent, y+base, name)
		if len(time) > 0 {
			c.lines(time, ink{size: leastSize}, timeX, y+base+timeDown+capHeight(leastSize), leastSize*1.1*millimetre)
		}
		draw(c, y+rise)
	}
}

// timeLines puts the hands-on time on one line if that is wide enough, else each word on its own.
func (l *layout) timeLines(takes string, room float64) []line {
	if takes == "" {
		return nil
	}
	one := l.set.plain(Regular, takes).lines(leastSize, 1000)
	if one[0].width <= room {
		return one
	}
	var each []line
	for _, word := range strings.Fields(takes) {
		each = append(each, l.set.plain(Regular, word).lines(leastSize, 1000)...)
	}
	return each
}

// timeDown is the white between a step's number and its hands-on time, in mm.
const timeDown = 1.5

// leastSize is the size in points of what nobody needs while working.
const leastSize = 9.0

// numberSize keeps "12a" clear of the ticks.
func (l *layout) numberSize(name string, indent float64) float64 {
	size := l.m.number
	for size > 10.5 && textWidth(Bold, name, size) > l.grid.tickX-1-indent {
		size -= 0.5
	}
	return size
}

// continued stands above what opens a page inside a step, and the step's messages below it: the number and the word, and of what
// it goes on where that can't be said otherwise.
func (l *layout) continued(b *document.Step, of ...document.Run) piece {
	p := piece{name: "continued", at: b.At, step: b.Name, h: l.continuedHeight(), keep: hard}
	if !l.measuring {
		name := b.Name
		p.draw = func(c *canvas, y float64) {
			words := append([]document.Run{{Text: "continued"}}, of...)
			c.box("step", 0, y, l.grid.tickX, l.m.cap, name+" continued")
			c.words(ink{face: Bold, size: l.numberSize(name, 0)}, 0, y+l.m.cap, name)
			c.lines(newParagraph(words).lines(l.m.s, l.grid.text)[:1], ink{size: l.m.s}, l.grid.textX, y+l.m.cap, l.m.lead)
		}
	}
	return p
}

func (l *layout) continuedHeight() float64 { return l.m.cap + below(l.m.s) }

// brief is what stands above an act that goes on over the page where the step's messages don't fit there again: each says its word
// and its hazard. Less than that is never printed: rather no card.
func (l *layout) brief(continued piece, b *document.Step) []piece {
	all := append(l.said.take(1+len(b.Panels)), continued)
	for i := range b.Panels {
		p := &b.Panels[i]
		words := l.set.mixed(p.Signal+":", p.Hazard).at(l.m.s, l.grid.live)
		all = append(all, piece{name: p.Signal, at: p.At, step: b.Name, gapA: 1.6 * l.m.u, h: l.m.cap + words.tall(l.m.lead) + below(l.m.s), keep: hard})
		if l.measuring {
			continue
		}
		all[1+i].draw = func(c *canvas, y float64) {
			c.box("again "+p.Signal, 0, y, l.grid.live, l.m.cap+words.tall(l.m.lead), "")
			c.lines(words.lines(), ink{size: l.m.s}, 0, y+l.m.cap, l.m.lead)
		}
	}
	return all
}

// object is what an act is done to: the first of its words that are set off.
func object(a *document.Act) []document.Run {
	for i := range a.Runs {
		if a.Runs[i].Bold {
			return []document.Run{{Text: ": "}, a.Runs[i]}
		}
	}
	return nil
}

// chooseHeads gives each piece the first of its headings with which it still fits on a page, together with what holds on to it: on
// small paper there is not room for all that should be said again.
func (l *layout) chooseHeads(ps []piece) {
	for i := range ps {
		p := &ps[i]
		rest := 0.0
		for k := i; ps[k].keep == hard && k+1 < len(ps); k++ {
			rest += ps[k+1].above() + ps[k+1].h
		}
		for _, again := range p.heads {
			p.again = again
			if p.opening()+rest <= l.room() {
				break
			}
		}
	}
}

// repeated stands above passes or a drawing that open a page, below what is said again: the act, without its box to tick.
func (l *layout) repeated(b *document.Step, a *document.Act) []piece {
	if a.Handover != nil {
		return nil
	}
	bare := *a
	bare.Tick, bare.Passes, bare.Figures, bare.Boxes = false, nil, nil, nil
	again := l.act(nil, &bare, l.room())[:1]
	again[0].step = b.Name
	return again
}

// condition says what governs the step; "not needed" has a small box of its own.
func (l *layout) condition(b *document.Condition) piece {
	var lines []string
	if b.If != "" {
		lines = append(lines, "If "+b.If+":")
	}
	if b.Otherwise {
		lines = append(lines, "Otherwise:")
	}
	for _, v := range b.For {
		lines = append(lines, "Only for "+v+":")
	}
	if b.Repeat != "" {
		lines = append(lines, b.Repeat+":")
	}
	small := 5.0
	need := 0.0
	if b.If != "" {
		need = small + 2 + textWidth(Regular, "not needed", l.m.caption) + 4
	}
	var broken []passage
	rows := 0
	for i, s := range lines {
		room := l.grid.text
		if i == 0 {
			room -= need
		}
		ls := l.set.plain(Bold, s).at(l.m.s, room)
		broken = append(broken, ls)
		rows += ls.n
	}
	boxes := 0.0
	if b.Times > 1 {
		boxes = small + 2
	}
	h := max(small, l.m.cap) + float64(rows-1)*l.m.lead + below(l.m.s) + boxes
	base := max(small, l.m.cap)/2 + l.m.cap/2
	return piece{name: "condition", gapA: 2.3 * l.m.u, h: h, base: base, draw: func(c *canvas, y float64) {
		at := y + base
		c.box("condition", l.grid.textX, y, l.grid.text, h, lines[0])
		for _, ls := range broken {
			c.lines(ls.lines(), ink{size: l.m.s}, l.grid.textX, at, l.m.lead)
			at += float64(ls.n) * l.m.lead
		}
		if need > 0 {
			x := l.grid.textX + l.grid.text - need + 4
			c.tick(x, y+base-l.m.cap/2-small/2, small)
			c.words(ink{size: l.m.caption}, x+small+2, y+base, "not needed")
		}
		if b.Times > 1 {
			for i := range min(b.Times, int(l.grid.text/(small+3))) {
				c.tick(l.grid.textX+float64(i)*(small+3), at-l.m.cap, small)
			}
		}
	}}
}
