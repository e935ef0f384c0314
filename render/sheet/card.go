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

	body     []piece // of the size tried last
	unmarked bool    // a list: no mark at its end
	rooms    rooms
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
	l := &layout{card: card, opt: opt, grid: g, set: newSetter()}
	if l.code, err = ScanCode(card.Header.Payload); err != nil {
		return nil, fmt.Errorf("number and revision: %w", err)
	}
	leaves, err := l.fit()
	if err != nil {
		return nil, err
	}
	return l.document(l.balanced(leaves)), nil
}

func (l *layout) at(size float64) ([]leaf, error) {
	l.m = measuresOf(size)
	l.body = l.pieces()
	return paginate(l.body, l.room(), nil)
}

func (l *layout) sheets(leaves []leaf) int { return (len(leaves) + l.opt.Sides - 1) / l.opt.Sides }

// fit finds the size of type: the preferred one, or one down to 18 minutes of arc when that saves a sheet; with a number of
// sheets asked for, the largest that fits them.
func (l *layout) fit() ([]leaf, error) {
	arc := func(minutes float64) float64 { return faces.SizeFor(l.opt.Distance, minutes) }
	if l.opt.Sheets > 0 {
		for s := arc(mostArc); s >= arc(leastArc)-1e-9; s -= sizeStep {
			if leaves, err := l.at(s); err == nil && l.sheets(leaves) <= l.opt.Sheets {
				return leaves, nil
			}
		}
		leaves, err := l.at(arc(leastArc))
		if err != nil {
			return nil, err
		}
		return nil, fmt.Errorf("the card needs %d sheets at the least size of type, %.1f pt for reading at %.0f mm", l.sheets(leaves), arc(leastArc), l.opt.Distance)
	}
	wanted, err := l.at(arc(wantedArc))
	if err != nil {
		if smaller, err2 := l.at(arc(savingArc)); err2 == nil {
			return smaller, nil
		}
		return nil, err
	}
	small, err := l.at(arc(savingArc))
	if err != nil {
		small = wanted
	}
	saves := l.sheets(small) < l.sheets(wanted)
	if !saves && !l.scant(wanted) {
		l.m = measuresOf(arc(wantedArc))
		return l.at(arc(wantedArc))
	}
	for s := arc(wantedArc) - sizeStep; s > arc(savingArc); s -= sizeStep {
		leaves, err := l.at(s)
		if err == nil && l.sheets(leaves) <= l.sheets(small) && (saves || !l.scant(leaves)) {
			return leaves, nil
		}
	}
	if !saves && l.scant(small) {
		return l.at(arc(wantedArc)) // smaller type would help nobody
	}
	return l.at(arc(savingArc))
}

// scant tells whether the last of several pages is filled to less than a third.
func (l *layout) scant(leaves []leaf) bool {
	return len(leaves) > 1 && leaves[len(leaves)-1].used < l.room()/3
}

// balanced moves steps from the last page but one to a nearly empty last page, a whole stage where one begins late enough.
func (l *layout) balanced(leaves []leaf) []leaf {
	if !l.scant(leaves) {
		return leaves
	}
	n, room := len(leaves), l.room()
	on := map[*piece]bool{}
	for i, p := range leaves[n-2].pieces {
		on[p.piece] = i > 0
	}
	var best []leaf
	for i := len(l.body) - 1; i > 0; i-- {
		if !on[&l.body[i]] || l.body[i-1].keep >= soft {
			continue // not the first piece of what holds together
		}
		try, err := paginate(l.body, room, map[int]bool{i: true})
		if err != nil || len(try) != n || l.scant(try) {
			continue
		}
		if try[n-2].used < room/2 {
			break
		}
		if l.body[i].stage {
			return try
		}
		if best == nil {
			best = try
		}
	}
	if best == nil {
		return leaves
	}
	return best
}

// document draws the pages.
func (l *layout) document(leaves []leaf) *Document {
	h := l.card.Header
	d := &Document{Title: h.Number + " " + h.Revision + " " + h.Title, Language: l.card.Language, Number: h.Number, Revision: h.Revision, Width: l.grid.w, Height: l.grid.h}
	block := 0
	for i := range leaves {
		page := Page{}
		c := &canvas{page: &page, left: l.grid.offset(i, l.opt.Sides), text: l.set, block: &block}
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

// room is the height of the body of a page.
func (l *layout) room() float64 {
	if l.rooms.size != l.m.s {
		l.rooms = rooms{l.m.s, l.bodyHeight()}
	}
	return l.rooms.height
}

func (l *layout) bodyHeight() float64 {
	return l.grid.h - l.grid.top - l.headerHeight() - l.grid.foot - l.footHeight() - l.footExtra() - markGap - l.markHeight() - 1.6
}

// markHeight is the height kept for the mark at the end of a page: as much on all pages, so that it can't run into the text.
func (l *layout) markHeight() float64 {
	if l.unmarked {
		return l.m.lead
	}
	return l.m.lead + float64(len(l.endLines())-1)*l.endLead()
}

// footExtra is the height of further lines of what to do when the card looks wrong.
func (l *layout) footExtra() float64 {
	n := l.set.mixed(l.card.Foot.Lead, []document.Run{{Text: l.card.Foot.Wrong}}).count(10.5, l.grid.live)
	return float64(n-1) * 10.5 * 1.28 * millimetre
}

func (l *layout) foot(c *canvas) {
	f := l.card.Foot
	y := l.grid.h - l.grid.foot - l.footHeight() - l.footExtra()
	c.rule(0, l.grid.live, y, 0.5, Colour{})
	c.box("foot", 0, y, l.grid.live, l.grid.h-l.grid.foot-y, "")
	y += footGap + capHeight(10.5)
	lines := l.set.mixed(f.Lead, []document.Run{{Text: f.Wrong}}).lines(10.5, l.grid.live)
	c.lines(lines, ink{size: 10.5}, 0, y, 10.5*1.28*millimetre)
	y += float64(len(lines)) * 10.5 * 1.28 * millimetre
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
		c.words(ink{face: Bold, size: l.m.s}, x, y, words)
		return
	}
	if l.unmarked {
		return
	}
	lines := l.endLines()
	y -= float64(len(lines)-1) * l.endLead()
	c.fill(l.grid.tickX+1, y-l.m.cap, l.m.cap, l.m.cap, Colour{})
	c.box("end", l.grid.tickX, y-l.m.cap, l.grid.live-l.grid.tickX, l.m.cap, l.endWords())
	c.lines(lines, ink{size: l.m.end}, x, y, l.endLead())
}

func (l *layout) endWords() string {
	e := l.card.End
	return fmt.Sprintf("%s, %s to tick. %s", counted(e.Steps, "step", "steps"), counted(e.Boxes, "box", "boxes"), e.Then)
}

func (l *layout) endLead() float64 { return l.m.end * 1.3 * millimetre }

// endLines breaks the words of the end mark, which take two lines on narrow paper.
func (l *layout) endLines() []line {
	return l.set.mixed("End of card", []document.Run{{Text: noBreakSpace + l.endWords()}}).lines(l.m.end, l.grid.live-l.grid.textX)
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
	w := textWidth(Bold, "DRAFT", size)
	x, y := l.grid.w/2-w*0.3536, l.grid.h/2+w*0.3536
	c.box("draft", 0, 0, l.grid.live, 0, "DRAFT")
	c.op(Text{X: x, Y: y, Face: Bold, Size: size, String: "DRAFT", Colour: Grey(0.65), Angle: 45, Hollow: 1.2, Role: Artifact})
}
