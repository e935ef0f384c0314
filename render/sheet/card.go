package sheet

import (
	"fmt"

	"refitcard/render/document"
	"refitcard/render/faces"
)

// The angles in minutes of arc that sizes of type are worked out from (NUREG-0700 rev. 2, 1.3.1-4).
const (
	wantedArc = 20.0 // preferred
	savingArc = 18.0 // taken by itself when that saves a sheet
	leastArc  = 16.0 // the least for text that is read
	mostArc   = 24.0 // type that grows to fill stops here
	labelArc  = 15.0 // the least for labels and the numbers of a drawing
)

// sizeStep is how finely sizes are tried, in points.
const sizeStep = 0.1

// layout is one card on its way to pages.
type layout struct {
	card *document.JobCard
	opt  Options
	grid grid
	m    measures
	set  *setter
	code [][]bool

	made      int  // how many pieces the size tried last has
	measuring bool // a size is tried: pieces have their heights and nothing that draws them
	unmarked  bool // a list: no mark at its end
	rooms     rooms
	title     setTitle
	lists     map[listsKey]*glanceLists
	steps     []*document.Step // by their blocks; nil for other blocks
	bench     *bench           // of a card
	said      *slab[piece]     // of the size that is tried
}

// rooms remembers the height of a page's body for the size of type that it was last asked for.
type rooms struct{ size, height float64 }

// LayCard lays a job card out on pages. It refuses what does not fit, and names the block.
func LayCard(card *document.JobCard, opt Options) (*Document, error) {
	g, err := gridOf(opt)
	if err != nil {
		return nil, err
	}
	if opt.Distance == 0 {
		opt.Distance = 600
	}
	if opt.Sides != 1 {
		opt.Sides = 2
	}
	if card.Changed != nil {
		g.barred()
	}
	b := getBench()
	l := &layout{card: card, opt: opt, grid: g, set: b.set, bench: b}
	if l.code, err = ScanCode(card.Header.Payload); err != nil {
		return nil, fmt.Errorf("number and revision: %w", err)
	}
	t, err := l.fit()
	if err != nil {
		return nil, err
	}
	if t.pages == nil { // it was only measured
		if t, err = l.at(t.m.s); err != nil {
			return nil, err
		}
	}
	l.use(t.m)
	d := l.document(t.pages.leaves())
	b.rest()
	return d, nil
}

// use sets the sizes of type, and the width of text that goes with them.
func (l *layout) use(m measures) {
	l.m = m
	l.grid.forSize(m.s)
}

// tried is a card at one size of type.
type tried struct {
	m     measures
	n     int    // pages
	scant bool   // the last of several would be filled to less than a third if no step were moved to it
	pages *pager // nil where the size was only measured
}

// at sets the card at a size of type in points; it fails where a block fits on no page.
func (l *layout) at(size float64) (tried, error) {
	l.measuring = false
	t, err := l.try(size, &l.bench.drawn)
	t.pages = &l.bench.drawn
	return t, err
}

// measure does what at does, for a card that will hardly be drawn at this size.
func (l *layout) measure(size float64) (tried, error) {
	l.measuring = true
	return l.try(size, &l.bench.trial)
}

func (l *layout) try(size float64, p *pager) (tried, error) {
	l.use(measuresOf(size))
	p.said.clear()
	l.said = &p.said
	p.find(l.pieces(p.ps[:0]), l.frame(cardTaste(l.opt.Sides)))
	t := tried{m: l.m, n: p.pages(), scant: p.spill() < p.room/3}
	if t.n == 0 {
		return t, p.tooTall()
	}
	return t, nil
}

func (l *layout) frame(t taste) frame {
	return frame{room: l.room(), last: l.room() - l.endHeight(), line: 2 * l.m.lead, taste: t}
}

func (l *layout) sheets(t tried) int { return (t.n + l.opt.Sides - 1) / l.opt.Sides }

// fit finds the size of type: the preferred one, or one down to 18 minutes of arc when that saves a sheet or a last page that
// would be nearly empty; with a number of sheets asked for, the largest that fits them.
func (l *layout) fit() (tried, error) {
	arc := func(minutes float64) float64 { return faces.SizeFor(l.opt.Distance, minutes) }
	if l.opt.Sheets > 0 {
		return l.fitSheets(arc(mostArc), arc(leastArc))
	}
	wanted, err := l.at(arc(wantedArc))
	if err != nil {
		return l.fitBlocks(arc(wantedArc)-sizeStep, arc(leastArc))
	}
	if !wanted.scant && l.sheets(wanted) == 1 {
		return wanted, nil
	}
	small, err := l.measure(arc(savingArc))
	saves := err == nil && l.sheets(small) < l.sheets(wanted)
	if err != nil || !saves && !wanted.scant {
		return wanted, nil
	}
	for s := arc(wantedArc) - sizeStep; s > arc(savingArc); s -= sizeStep {
		t, err := l.measure(s)
		if err == nil && l.sheets(t) <= l.sheets(small) && (saves || !t.scant) {
			return t, nil
		}
	}
	if !saves && small.scant {
		return wanted, nil // smaller type would help nobody
	}
	return small, nil
}

// fitBlocks finds the largest type from most down to least points at which every block fits on a page.
func (l *layout) fitBlocks(most, least float64) (tried, error) {
	last, err := l.measure(least)
	if err != nil {
		return tried{}, err
	}
	for s := most; s > least; s -= sizeStep {
		if t, err := l.measure(s); err == nil {
			return t, nil
		}
	}
	return last, nil
}

// fitSheets finds the largest type from most down to least points that fits the sheets asked for.
func (l *layout) fitSheets(most, least float64) (tried, error) {
	for s := most; s >= least-1e-9; s -= sizeStep {
		if t, err := l.measure(s); err == nil && l.sheets(t) <= l.opt.Sheets {
			return t, nil
		}
	}
	t, err := l.measure(least)
	if err != nil {
		return t, err
	}
	return t, fmt.Errorf("the card needs %d sheets at the least size of type, %.1f pt for reading at %.0f mm: ask for as many, take a larger paper or hold it nearer (--distance)", l.sheets(t), least, l.opt.Distance)
}

// document draws the pages.
func (l *layout) document(leaves []leaf) *Document {
	h := l.card.Header
	d := &Document{Title: h.Number + " " + h.Revision + " " + h.Title, Language: l.card.Language, Number: h.Number, Revision: h.Revision, Width: l.grid.w, Height: l.grid.h}
	block := 0
	for i := range leaves {
		n := len(leaves[i].pieces)
		page := Page{Ops: make([]Op, 0, 24+6*n), Boxes: make([]Box, 0, 10+2*n), Origins: make([]Origin, 0, 2+n)}
		c := &canvas{page: &page, left: l.grid.offset(i, l.opt.Sides), text: l.set, block: &block}
		if l.card.Changed != nil {
			c.changed = l.card.IsChanged
		}
		if h.Draft {
			l.draft(c)
		}
		l.header(c, i, len(leaves))
		top := l.grid.top + l.headerHeight()
		leaves[i].draw(c, top, l.grid.live)
		l.mark(c, leaves, i)
		from := len(page.Ops)
		l.foot(c)
		if i > 0 {
			page.saidBefore(from)
		}
		for _, p := range leaves[i].pieces {
			if p.stage {
				d.Bookmarks = append(d.Bookmarks, Bookmark{p.name, i, top + p.y})
			}
		}
		d.Pages = append(d.Pages, page)
	}
	return d
}

// footGap is the white between the foot's rule and its first line, in mm.
const footGap = 1.9

// markGap is the white between the mark of continuation and the foot's rule, in mm.
const markGap = 2.8

func (l *layout) footHeight() float64 {
	return footGap + (10.5*1.28+9*1.28*float64(l.statementLines()))*millimetre
}

func (l *layout) statementLines() int {
	return l.set.plain(Regular, l.card.Foot.Statement).count(9, l.grid.live)
}

// wrong is what to do when the card looks wrong; the date comes behind it where the head of a small page has no room.
func (l *layout) wrong() passage {
	words := l.card.Foot.Wrong
	if h := l.card.Header; h.ShortDate != "" && l.firstRow(h).date == "" {
		words += " Dated" + noBreakSpace + h.ShortDate + "."
	}
	return l.set.mixed(l.card.Foot.Lead, []document.Run{{Text: words}}).at(10.5, l.grid.live)
}

// room is the height of the body of a page.
func (l *layout) room() float64 {
	if l.rooms.size != l.m.s {
		l.rooms = rooms{l.m.s, l.bodyHeight()}
	}
	return l.rooms.height
}

func (l *layout) bodyHeight() float64 {
	return l.grid.h - l.grid.top - l.headerHeight() - l.grid.foot - l.footHeight() - l.footExtra() - markGap - l.m.lead - 1.6
}

// endHeight is what the mark at the end of the card takes beyond one line, in mm.
func (l *layout) endHeight() float64 {
	if l.unmarked {
		return 0
	}
	return float64(l.endWords().n-1) * l.endLead()
}

// footExtra is the height of further lines of what to do when the card looks wrong.
func (l *layout) footExtra() float64 {
	return l.wrong().tall(10.5 * 1.28 * millimetre)
}

func (l *layout) foot(c *canvas) {
	f := l.card.Foot
	y := l.grid.h - l.grid.foot - l.footHeight() - l.footExtra()
	c.rule(0, l.grid.live, y, 0.5, Colour{})
	c.box("foot", 0, y, l.grid.live, l.grid.h-l.grid.foot-y, "")
	y += footGap + capHeight(10.5)
	wrong := l.wrong()
	c.lines(wrong.lines(), ink{size: 10.5}, 0, y, 10.5*1.28*millimetre)
	y += float64(wrong.n) * 10.5 * 1.28 * millimetre
	c.lines(l.set.plain(Regular, f.Statement).lines(9, l.grid.live), ink{size: 9}, 0, y, 9*1.28*millimetre)
}

// mark puts "Continued on page 2, step 5", or the end mark with the counts.
func (l *layout) mark(c *canvas, leaves []leaf, i int) {
	y := l.grid.h - l.grid.foot - l.footHeight() - l.footExtra() - markGap
	x := l.grid.textX
	if i+1 < len(leaves) {
		side := 0.55 * l.grid.tick
		c.shape(Colour{}, l.grid.tickX+1, y-l.m.cap, l.grid.tickX+1+side, y-l.m.cap, l.grid.tickX+1+side/2, y-l.m.cap+side*0.85)
		words := fmt.Sprintf("Continued on page %d", i+2)
		if next := leaves[i+1].first; next != "" {
			words += ", step " + next
		}
		c.box("continued", l.grid.tickX, y-l.m.cap, l.grid.live-l.grid.tickX, l.m.cap, words)
		size := l.m.s
		for size > leastSize && x+textWidth(Bold, words, size) > l.grid.live {
			size -= 0.25
		}
		c.words(ink{face: Bold, size: size}, x, y, words)
		return
	}
	if l.unmarked {
		return
	}
	words := l.endWords()
	y -= words.tall(l.endLead())
	c.fill(l.grid.tickX+1, y-l.m.cap, l.m.cap, l.m.cap, Colour{})
	c.box("end", l.grid.tickX, y-l.m.cap, l.grid.live-l.grid.tickX, l.m.cap, l.endCounts())
	c.lines(words.lines(), ink{size: l.m.end}, x, y, l.endLead())
}

func (l *layout) endCounts() string {
	e := l.card.End
	return fmt.Sprintf("%s, %s to tick. %s", counted(e.Steps, "step", "steps"), counted(e.Boxes, "box", "boxes"), e.Then)
}

func (l *layout) endLead() float64 { return l.m.end * 1.3 * millimetre }

// endWords are the words of the end mark, which take two lines on narrow paper.
func (l *layout) endWords() passage {
	return l.set.mixed("End of card", []document.Run{{Text: noBreakSpace + l.endCounts()}}).at(l.m.end, l.grid.live-l.grid.textX)
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// draft puts DRAFT across the page in outline letters, under everything.
func (l *layout) draft(c *canvas) {
	size := min(l.grid.w, l.grid.h) / 210 * 150
	reach := 0.3536*textWidth(Bold, "DRAFT", 1) + 0.7071*capHeight(1) // from the middle to the left, at one point
	size = min(size, (min(l.grid.w, l.grid.h)/2-10.5)/reach)
	w := textWidth(Bold, "DRAFT", size)
	x, y := l.grid.w/2-w*0.3536, l.grid.h/2+w*0.3536
	c.box("draft", 0, 0, l.grid.live, 0, "DRAFT")
	c.op(Text{X: x, Y: y, Face: Bold, Size: size, String: "DRAFT", Colour: Grey(0.65), Angle: 45, Hollow: 1.2, Role: Artifact})
}
