package sheet

import "math"

// unit is a run of atoms inside which no line may break. Its places are in mm at one point of type, on a line without end.
type unit struct {
	from, to   int // atoms
	begin, end float64
	first      bool    // always begins a line: a name too wide for a line begins here, and is cut
	lean       float64 // what it costs to end a line behind it
}

// passage is a paragraph at its size and width. Its lines are counted at once, which is all that has to be known while sizes of
// type are tried, and broken when it is drawn.
type passage struct {
	text        *paragraph
	size, width float64 // pt, mm
	n           int     // lines
}

// at sets the paragraph at size pt in lines of at most width mm.
func (p *paragraph) at(size, width float64) passage {
	return passage{p, size, width, p.count(size, width)}
}

// lines breaks the passage.
func (q passage) lines() []line { return q.text.lines(q.size, q.width) }

// tall is the height in mm from the first baseline to the last.
func (q passage) tall(lead float64) float64 { return float64(max(q.n-1, 0)) * lead }

// measure is the width of a line in mm at one point of type.
func measure(size, width float64) float64 { return width/size + 1e-9 }

// count gives how many lines the paragraph takes where each line takes as many words as it can: no breaking takes fewer.
func (p *paragraph) count(size, width float64) int {
	limit := measure(size, width)
	q := p.within(limit)
	n := 0
	for i := 0; i < len(q.units); n++ {
		i = q.longest(i, limit)
	}
	return n
}

// longest gives the end of the longest line that begins with unit i.
func (p *paragraph) longest(i int, limit float64) int {
	u := p.units
	j := i + 1
	for until := u[i].begin + limit; j < len(u) && u[j].end <= until && !u[j].first; j++ {
	}
	return j
}

// lines breaks the paragraph at size pt into lines of at most width mm: of all breakings into the fewest lines the one with the
// least badness, ragged at the right.
func (p *paragraph) lines(size, width float64) []line {
	limit := measure(size, width)
	q := p.within(limit)
	if n := len(q.units); n > 0 && q.longest(0, limit) == n { // most take one line
		return []line{{q.atoms, (q.units[n-1].end - q.units[0].begin) * size}}
	}
	ends := q.ends(limit)
	out := make([]line, len(ends))
	from := 0
	for k, to := range ends {
		u := q.units
		out[k] = line{q.atoms[u[from].from:u[to-1].to], (u[to-1].end - u[from].begin) * size}
		from = to
	}
	return out
}

// even breaks a heading so that its lines are about as long as each other, on as few lines as the width in mm takes.
func (p *paragraph) even(size, width float64) []line {
	n := p.count(size, width)
	if n < 2 {
		return p.lines(size, width)
	}
	low, high := width/float64(2*n), width
	for high-low > 0.5 {
		if mid := (low + high) / 2; p.count(size, mid) > n {
			low = mid
		} else {
			high = mid
		}
	}
	return p.lines(size, high)
}

// ends gives the unit behind each line. Line k can end only between the end that leaves the lines after it full and the end that
// the lines up to it reach when they are full: seldom more than a few places, so the work grows with the length of the text.
func (p *paragraph) ends(limit float64) []int {
	var late []int
	for i := 0; i < len(p.units); {
		i = p.longest(i, limit)
		late = append(late, i)
	}
	n := len(late)
	if n < 2 {
		return late
	}
	early := p.earliest(n, limit)
	lines := make([][]choice, n)
	places := 0
	for k := range n {
		places += late[k] - early[k] + 1
	}
	room := make([]choice, places)
	for k := range n {
		here := late[k] - early[k] + 1
		lines[k], room = room[:here], room[here:]
		for at := range lines[k] {
			if k == 0 {
				lines[k][at] = choice{p.badness(0, early[k]+at, limit), 0}
				continue
			}
			lines[k][at] = p.choose(lines[k-1], early[k-1], early[k]+at, limit)
		}
	}
	ends := late
	for k, at := n-1, 0; k >= 0; k-- {
		ends[k] = early[k] + at
		at = lines[k][at].from
	}
	return ends
}

// choice is the best way to break what stands before a place: its cost, and which of the ends of the line before it takes.
type choice struct {
	cost float64
	from int
}

// choose holds against each other the lines that end at a place and begin at one of the ends of the line before, the first of
// which is at early.
func (p *paragraph) choose(before []choice, early, end int, limit float64) choice {
	best := choice{math.Inf(1), 0}
	for b := min(len(before), end-early) - 1; b >= 0 && p.fits(early+b, end, limit); b-- {
		if c := before[b].cost + p.badness(early+b, end, limit); c < best.cost {
			best = choice{c, b}
		}
	}
	return best
}

// earliest gives for each of n lines the first place where it may end, so that the lines after it still take the rest.
func (p *paragraph) earliest(n int, limit float64) []int {
	early := make([]int, n)
	early[n-1] = len(p.units)
	for k := n - 1; k > 0; k-- {
		i := early[k] - 1
		for i > 0 && p.fits(i-1, early[k], limit) {
			i--
		}
		early[k-1] = i
	}
	return early
}

// fits tells whether the units from i to j may stand on one line.
func (p *paragraph) fits(i, j int, limit float64) bool {
	if p.units[j-1].end-p.units[i].begin > limit {
		return j == i+1
	}
	for k := i + 1; p.cut && k < j; k++ {
		if p.units[k].first {
			return false
		}
	}
	return true
}

// What makes a line bad besides its white. White is measured as a share of the line and squared: one of a tenth costs 0.01. The
// weights were set by looking at cards.
const (
	loneWord   = 10.0 // the last line is one word
	shortLast  = 1.0 / 3
	shortTail  = 0.3  // times the square of what the last line lacks to a third
	smallWord  = 0.03 // "the" or "of" ends a line
	freshStart = 0.05 // a sentence's first word ends a line
)

// badness is what a line of the units from i to j costs.
func (p *paragraph) badness(i, j int, limit float64) float64 {
	u := p.units
	share := (u[j-1].end - u[i].begin) / limit
	if j < len(u) {
		white := max(1-share, 0)
		return white*white + u[j-1].lean
	}
	if i > 0 && p.words(i, j) == 1 {
		return loneWord
	}
	if lack := shortLast - share; i > 0 && lack > 0 {
		return shortTail * lack * lack
	}
	return 0
}

// words counts the words of the units from i to j.
func (p *paragraph) words(i, j int) int {
	n := 1
	for _, a := range p.atoms[p.units[i].from+1 : p.units[j-1].to] {
		if a.space > 0 {
			n++
		}
	}
	return n
}

// gather puts the atoms into units, at their places. There are none yet.
func (p *paragraph) gather() {
	at := 0.0
	p.widest, p.cut = 0, false
	for i := range p.atoms {
		a := &p.atoms[i]
		if i > 0 {
			at += a.space
		}
		if i == 0 || !a.glue {
			p.units = append(p.units, unit{from: i, begin: at, first: a.cut})
			p.cut = p.cut || a.cut
		}
		at += a.width
		u := &p.units[len(p.units)-1]
		u.to, u.end = i+1, at
		p.widest = max(p.widest, at-u.begin)
	}
	for k := range p.units {
		p.units[k].lean = p.lean(k)
	}
}

// lean is what it costs to end a line behind a unit: a reader takes "the drain plug" or "Remove the" in one look.
func (p *paragraph) lean(k int) float64 {
	u := p.units[k]
	last := p.atoms[u.to-1]
	if u.to-u.from > 1 || last.face != Regular {
		return 0
	}
	if k > 0 && closes(p.atoms[u.from-1].text) && !closes(last.text) {
		return freshStart
	}
	for _, r := range last.text {
		if r < 'a' || r > 'z' {
			return 0
		}
	}
	if len(last.text) <= 3 {
		return smallWord
	}
	return 0
}

// closes tells whether a word ends a sentence.
func closes(word string) bool {
	switch word[len(word)-1] {
	case '.', '!', '?', ':', ';':
		return true
	}
	return false
}

// within gives the paragraph with every unit cut that is wider than the line: between its atoms, and inside a word that alone is
// too wide. What is cut begins a line.
func (p *paragraph) within(limit float64) *paragraph {
	if p.widest <= limit {
		return p
	}
	q := &paragraph{units: make([]unit, 0, len(p.units)+4)}
	for _, u := range p.units {
		if u.end-u.begin <= limit {
			q.atoms = append(q.atoms, p.atoms[u.from:u.to]...)
			continue
		}
		at := len(q.atoms)
		used := 0.0
		for rest := append([]atom{}, p.atoms[u.from:u.to]...); len(rest) > 0; {
			a := rest[0]
			wide := a.width
			if used > 0 {
				wide += used + a.space
			}
			switch {
			case wide <= limit:
				a.glue = used > 0
			case used > 0: // it begins the next line
				used, a.glue = 0, false
				continue
			case len([]rune(a.text)) > 1:
				a, rest[0] = cutAtom(a, limit)
				a.glue = false
				q.atoms = append(q.atoms, a)
				continue
			}
			q.atoms = append(q.atoms, a)
			used, rest = wide, rest[1:]
		}
		q.atoms[at].cut = true
	}
	q.gather()
	return q
}
