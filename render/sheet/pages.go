package sheet

import (
	"math"
	"slices"
)

// leastForStage is the height in mm below which a stage begins a new page.
const leastForStage = 30

// hair is what rounding may add to a height.
const hair = 1e-6

// frame says how high pages are, and what makes a break between two of them bad.
type frame struct {
	room  float64 // mm, of the body of a page
	last  float64 // mm, of the body of the last page, where the end mark stands
	line  float64 // mm, of a line of text: a page holds more than one
	taste taste
}

// taste holds what a break costs by the place where it stands. A page's white is measured as a share of its height and squared,
// so that a tenth costs 0.01 and a half 0.25.
type taste struct {
	step   float64 // between two steps and not before a stage
	within float64 // inside a step, whose messages are then said again
	list   float64 // inside a list or a table
	scant  float64 // a last page filled to less than a third
}

// cardTaste was set by looking at cards. On a card printed on both sides the reader turns the sheet over and sees nothing of what
// stood before, so that the end of a stage is worth up to a quarter of a page in white.
func cardTaste(sides int) taste {
	if sides == 2 {
		return taste{step: 0.07, within: 0.3, list: 0.15, scant: 1}
	}
	return taste{step: 0.02, within: 0.2, list: 0.1, scant: 1}
}

// What a page costs whatever its taste.
const (
	halfEmpty = 1.0 // times the share by which a page is less than half full
	oneLine   = 5.0 // a page with no more than one line on it
	torn      = 0.3 // a break where steps and acts should hold together, and can't
	markAlone = 100 // a page with nothing but the end mark
)

// pager finds the pages with the least badness: of all ways to break the pieces into the fewest pages, one where the sum of the
// badness of its pages is least. It works from piece to piece and remembers for each the best way to begin a page there, so that
// the work grows with the number of pieces.
type pager struct {
	frame
	ps      []piece
	below   []float64 // heights of the pieces before, all with the white above them
	opening []float64 // height of a piece that opens a page
	price   []float64 // of a break before the piece; infinite where none may be
	ways    []way
	said    slab[piece] // what may be said again above pieces that open a page
}

// way is the best way to break the pieces before a place.
type way struct {
	pages int // 0: there is none
	cost  float64
	from  int  // where the last of the pages begins
	alone bool // the end mark stands on a page of its own
}

// paginate breaks pieces into pages. It names the first piece that fits on none.
func paginate(ps []piece, f frame) ([]leaf, error) {
	p := newPager(ps, f)
	if p.pages() == 0 {
		return nil, p.tooTall()
	}
	return p.leaves(), nil
}

func newPager(ps []piece, f frame) *pager {
	p := &pager{}
	p.find(ps, f)
	return p
}

// find finds the pages of pieces, in the room that the pieces before them took.
func (p *pager) find(ps []piece, f frame) {
	n := len(ps)
	if n+1 > cap(p.ways) {
		floats := make([]float64, 3*(n+1))
		p.below, p.opening, p.price, p.ways = floats[:n+1:n+1], floats[n+1:2*n+2:2*n+2], floats[2*n+2:], make([]way, n+1)
	}
	p.frame, p.ps = f, ps
	p.below, p.opening, p.price, p.ways = p.below[:n+1], p.opening[:n+1], p.price[:n+1], p.ways[:n+1]
	clear(p.opening)
	clear(p.ways)
	p.below[0], p.price[n] = 0, 0
	for i := range ps {
		p.below[i+1] = p.below[i] + ps[i].above() + ps[i].h
		p.price[i] = math.Inf(1)
	}
	for i := 0; i < n; {
		p.opening[i] = ps[i].opening()
		if i > 0 {
			p.price[i] = p.place(i)
		}
		end := group(ps, i, soft)
		p.tear(i, end, soft)
		i = end
	}
	p.search()
}

// tear allows breaks among pieces that should hold together, where they don't fit on a page of their own: the weakest ties first,
// and stronger ones only in what is then still too tall.
func (p *pager) tear(i, end int, tie keep) {
	room := p.room
	if end == len(p.ps) {
		room = p.last
	}
	if tie == hard || p.height(i, end) <= room+hair {
		return
	}
	for from := i; from < end; {
		to := min(group(p.ps, from, tie+1), end)
		if from > i {
			p.opening[from] = p.ps[from].opening()
			p.price[from] = torn*float64(tie) + p.place(from)
		}
		p.tear(from, to, tie+1)
		from = to
	}
}

// place is what a break before piece i costs by where it stands.
func (p *pager) place(i int) float64 {
	before, after := &p.ps[i-1], &p.ps[i]
	switch {
	case after.stage:
		return 0
	case before.step != "" && before.step == after.step:
		return p.taste.within
	case before.step == "" && before.name == after.name:
		return p.taste.list
	}
	return p.taste.step
}

// height of the pieces from i to j on a page that i opens.
func (p *pager) height(i, j int) float64 { return p.opening[i] + p.below[j] - p.below[i+1] }

// search finds the best way to every place where a page may end.
func (p *pager) search() {
	n := len(p.ps)
	for i := range n {
		if i > 0 && p.ways[i].pages == 0 {
			continue
		}
		for j := i + 1; j <= n; j++ {
			used := p.height(i, j)
			if used > p.room+hair || p.crowded(i, j-1) {
				break
			}
			if j == n || !math.IsInf(p.price[j], 1) {
				p.offer(i, j, used)
			}
		}
	}
}

// crowded tells whether piece k begins a stage too low on a page that piece i opens.
func (p *pager) crowded(i, k int) bool {
	return k > i && p.ps[k].stage && p.room-p.height(i, k) < leastForStage-hair
}

// offer holds a page with the pieces from i to j against what is known for j.
func (p *pager) offer(i, j int, used float64) {
	w := way{pages: p.ways[i].pages + 1, cost: p.ways[i].cost + p.badness(i, j, used), from: i}
	if j == len(p.ps) && used > p.last+hair {
		w.pages, w.cost, w.alone = w.pages+1, w.cost+markAlone, true
	}
	if was := p.ways[j]; was.pages == 0 || w.pages < was.pages || w.pages == was.pages && w.cost < was.cost {
		p.ways[j] = w
	}
}

// badness is what a page with the pieces from i to j costs.
func (p *pager) badness(i, j int, used float64) float64 {
	cost := 0.0
	if used < p.line && len(p.ps) > 1 {
		cost = oneLine
	}
	share := used / p.room
	if j == len(p.ps) {
		if lack := 1.0/3 - share; i > 0 && lack > 0 {
			cost += p.taste.scant * (1 + lack)
		}
		return cost
	}
	white := max(1-share, 0)
	return cost + white*white + halfEmpty*max(white-0.5, 0) + p.price[j]
}

// pages is how many pages are needed; 0 where a piece fits on none.
func (p *pager) pages() int {
	if len(p.ps) == 0 {
		return 1
	}
	return p.ways[len(p.ps)].pages
}

// spill is the least in mm that the last page may have to hold: what is left when the pages before it are as full as can be.
func (p *pager) spill() float64 {
	n := len(p.ps)
	least := math.Inf(1)
	for i := n - 1; i > 0; i-- {
		used := p.height(i, n)
		if p.price[i] < math.Inf(1) && p.ways[i].pages == p.pages()-1 && used <= p.last+hair {
			least = min(least, used)
		}
	}
	return least
}

// leaves puts the pieces on their pages.
func (p *pager) leaves() []leaf {
	all := make([]leaf, max(p.pages(), 1))
	n := len(all)
	if len(p.ps) == 0 {
		return all
	}
	if p.ways[len(p.ps)].alone {
		n--
	}
	for j := len(p.ps); j > 0; j = p.ways[j].from {
		n--
		all[n].place(p.ps[p.ways[j].from:j])
	}
	return all
}

// tooTall names the pieces that have to stand on one page, up to the one that runs past its foot.
func (p *pager) tooTall() error {
	i := len(p.ps) - 1
	for i > 0 && p.ways[i].pages == 0 {
		i--
	}
	var blocks []string
	for j := i; j < len(p.ps); j++ {
		blocks = append(blocks, p.ps[j].block())
		if p.height(i, j+1) > p.room+hair || p.crowded(i, j) {
			break
		}
	}
	return &TooTall{Blocks: slices.Compact(blocks)}
}

// block names the piece for a message.
func (p *piece) block() string {
	if p.step == "" {
		return p.name
	}
	return p.name + " of step " + p.step
}
