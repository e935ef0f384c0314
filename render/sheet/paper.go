package sheet

import (
	"fmt"
	"strings"
)

// Options say on which paper a card is laid out, and how.
type Options struct {
	Paper     string  // a4, a5, a6, letter, half-letter, each also with -landscape; empty is a4
	Landscape bool    // the paper on its side; the same as the ending -landscape
	Distance  float64 // mm from eye to card; 0 is 600
	Sheets    int     // the largest type that fits so many sheets of paper; 0: as few as the reading distance lets
	Sides     int     // 1 or 2 printed sides of a sheet; 0 is 2
	Punch     string  // left or top: where holes will be; empty for none
	Colour    bool    // signal words on their colours
}

// size names a paper with its sides in mm, upright.
type size struct {
	name string
	w, h float64
}

var papers = [...]size{
	{"a4", 210, 297},
	{"a5", 148, 210},
	{"a6", 105, 148},
	{"letter", 215.9, 279.4},
	{"half-letter", 139.7, 215.9},
}

// column is one column of the grid, X from the left margin.
type column struct{ x, w float64 }

func (c column) right() float64 { return c.x + c.w }

// grid is the paper with its margins and columns. Every x of a layout counts from the left margin, so that the back of
// a punched sheet differs only by the margin.
type grid struct {
	w, h                   float64
	left, right, top, foot float64 // margins
	punched                string
	live                   float64 // width between the margins
	cols                   []column
	tickX, tick, textX     float64
	wide                   float64 // what the paper has for running text in steps
	text                   float64 // width of it: no more than 75 characters
	value                  column  // for torques and readings
	narrow                 bool    // no column of its own for values
	small                  bool    // A5 and smaller: smaller title and scan code
}

// gridOf works out the grid of a paper: page margins, columns and the place of number, tick and text.
func gridOf(o Options) (grid, error) {
	name, side := strings.CutSuffix(strings.ToLower(o.Paper), "-landscape")
	side = side || o.Landscape
	if name == "" {
		name = "a4"
	}
	var paper size
	for _, p := range papers {
		if p.name == name {
			paper = p
		}
	}
	if paper.name == "" {
		return grid{}, fmt.Errorf("there is no paper %q: a4, a5, a6, letter and half-letter are known", o.Paper)
	}
	if o.Punch != "" && o.Punch != "left" && o.Punch != "top" {
		return grid{}, fmt.Errorf("a card can't be punched %q: left or top", o.Punch)
	}
	g := grid{w: paper.w, h: paper.h, punched: o.Punch}
	if side {
		g.w, g.h = g.h, g.w
	}
	g.small = paper.name != "a4" && paper.name != "letter"
	g.margins()
	g.columns()
	return g, nil
}

// punchedMargin keeps ink away from the holes; page.md's other margins are those of a sealed pouch.
const punchedMargin = 20

func (g *grid) margins() {
	g.left, g.right, g.top, g.foot = 12, 12, 12, 12
	g.narrow = g.w < 180
	if g.narrow {
		g.left, g.right = 10, 10
	}
	if g.h < 180 && g.small {
		g.top, g.foot = 10, 10
	}
	switch g.punched {
	case "left":
		g.left = punchedMargin
	case "top":
		g.top = punchedMargin
	}
	g.live = g.w - g.left - g.right
}

// barred makes room for the bars of what has changed: they stay off the edge of a pouch, and off holes.
func (g *grid) barred() {
	if g.left < 12 || g.punched == "left" {
		g.left += barMargin
	}
	if g.right < 12 { // on the back of a punched sheet the margins change over
		g.right += barMargin
	}
	g.live = g.w - g.left - g.right
	g.cols = nil
	g.columns()
}

// between is the white between two columns in mm.
const between = 4

func (g *grid) columns() {
	n := 4
	g.tickX, g.tick, g.textX = 11, 7, 21
	switch {
	case g.w < 120:
		n = 1
	case g.narrow:
		n = 2
	}
	if g.narrow {
		g.tickX, g.tick, g.textX = 9, 6, 18
	}
	w := (g.live - between*float64(n-1)) / float64(n)
	for i := range n {
		g.cols = append(g.cols, column{float64(i) * (w + between), w})
	}
	g.wide = g.live - g.textX
	if g.narrow {
		g.value = column{g.live - 40, 40}
		g.text = g.wide
		return
	}
	// On wide paper text keeps 3.5 to 5.5 mm off the value column, so that the boxes stand free.
	g.value = column{g.live - min(w, 45), min(w, 45)}
	g.wide = float64(int(g.value.x - 3.4 - g.textX))
	if g.punched == "left" && !g.small && g.w < 250 {
		g.wide = float64(int(g.value.x - 5.4 - g.textX))
	}
	g.text = g.wide
}

// longestLine is how many characters a line of text has at the most, and meanAdvance how wide one is on average in card text, in
// em (measured, see the page description).
const (
	longestLine = 75
	meanAdvance = 0.46
)

// forSize narrows running text to what is read well at a size of type in points; what is left on very wide paper parts it from the
// values.
func (g *grid) forSize(s float64) { g.text = min(g.wide, longestLine*meanAdvance*s*millimetre) }

// offset is the left margin of page n, from 0: on the back of a sheet the punched side changes over.
func (g *grid) offset(page, sides int) float64 {
	if sides == 2 && page%2 == 1 {
		return g.right
	}
	return g.left
}

// measures are the sizes and gaps that follow from the step size s in points and the size of the paper.
type measures struct {
	s, u                                  float64
	number, figure, unit, second, heading float64 // pt
	label, table, caption, end            float64 // pt
	lead                                  float64 // mm from baseline to baseline of running text
	cap                                   float64 // mm, of s
}

// measuresOf gives the sizes of page.md's table of type for step size s.
func measuresOf(s float64) measures {
	m := measures{s: s, u: max(s/14, 0.8)}
	m.number = max(1.43*s, 16)
	m.figure = max(1.6*s, 18)
	m.unit = 0.68 * m.figure
	m.second = max(0.8*s, 10.5)
	m.table = max(0.8*s, 11)
	m.caption = m.second
	m.heading = 1.25 * s
	m.label = max(0.75*s, 10.5)
	m.end = max(s, 12)
	m.lead = 1.30 * s * millimetre
	m.cap = capHeight(s)
	return m
}

// descent is how far letters reach below the baseline, in em, as the Go faces have it.
const descent = 0.2114

func below(size float64) float64 { return descent * size * millimetre }
