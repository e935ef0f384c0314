package sheet

import (
	"fmt"
	"strings"
)

// Stock is a sheet of labels: how many across and down, each so wide and high, the margins at the left and the top, and the
// white between two labels; mm.
type Stock struct {
	Across, Down  int
	Width, Height float64
	Left, Top     float64
	GapX, GapY    float64
}

// The least label that holds all that has to stand on it, in mm, and the most labels on a sheet.
const (
	leastLabelWide, leastLabelHigh = 60.0, 34.0
	mostLabels                     = 100
)

// stockFor is the label sheet that is taken where none is named: on A4 that of the page description, on Letter as near to it as
// the paper lets (common practice, no source).
func stockFor(paper string) Stock {
	if paper == "letter" {
		return Stock{Across: 2, Down: 5, Width: 97, Height: 51, Left: 10.95, Top: 12.2}
	}
	return Stock{Across: 2, Down: 5, Width: 95, Height: 55, Left: 10, Top: 11}
}

// StockForm shows how a sheet of labels is written down.
const StockForm = "2x5 of 95x55 at 10,11"

// ParseStock reads the measures of a sheet of labels, in mm: "2x5 of 95x55 at 10,11" is two across and five down, each 95
// wide and 55 high, the first 10 from the left and 11 from the top; "gap 2.5,0" behind it is the white between two.
func ParseStock(s string) (Stock, error) {
	var k Stock
	wrong := fmt.Errorf("a sheet of labels can't be read from %q: write it as %q, with \"gap 2.5,0\" behind it if there is white between them", s, StockForm)
	words := strings.Fields(strings.ReplaceAll(strings.ToLower(s), "×", "x"))
	if len(words) != 5 && len(words) != 7 || words[1] != "of" || words[3] != "at" || len(words) == 7 && words[5] != "gap" {
		return k, wrong
	}
	pairs := []struct {
		word, form string
		a, b       any
	}{{words[0], "%dx%d%s", &k.Across, &k.Down}, {words[2], "%gx%g%s", &k.Width, &k.Height}, {words[4], "%g,%g%s", &k.Left, &k.Top}}
	if len(words) == 7 {
		pairs = append(pairs, pairs[2])
		pairs[3].word, pairs[3].a, pairs[3].b = words[6], &k.GapX, &k.GapY
	}
	for _, p := range pairs {
		var rest string
		if n, _ := fmt.Sscanf(p.word, p.form, p.a, p.b, &rest); n != 2 {
			return Stock{}, wrong
		}
	}
	return k, nil
}

// Places is how many labels a sheet has.
func (k Stock) Places() int { return k.Across * k.Down }

// fits tells whether the labels stand on a paper, and are large enough for their words.
func (k Stock) fits(w, h float64) error {
	in := func(x float64) bool { return x >= 0 && x <= 1000 } // also false for what is no number
	switch {
	case k.Across < 1 || k.Down < 1 || k.Across > mostLabels || k.Down > mostLabels || k.Places() > mostLabels:
		return fmt.Errorf("%d by %d labels: a sheet has 1 to %d", k.Across, k.Down, mostLabels)
	case !in(k.Width) || !in(k.Height) || !in(k.Left) || !in(k.Top) || !in(k.GapX) || !in(k.GapY):
		return fmt.Errorf("the measures of the labels are in mm, 0 to 1000, as in %q", StockForm)
	case k.Width < leastLabelWide || k.Height < leastLabelHigh:
		return fmt.Errorf("labels of %g by %g mm are too small to be read: at least %g by %g", k.Width, k.Height, leastLabelWide, leastLabelHigh)
	}
	right := k.Left + float64(k.Across)*k.Width + float64(k.Across-1)*k.GapX
	foot := k.Top + float64(k.Down)*k.Height + float64(k.Down-1)*k.GapY
	if right > w+0.05 || foot > h+0.05 {
		return fmt.Errorf("the labels end at %.1f and %.1f mm, the paper at %.1f and %.1f: measure the sheet again", right, foot, w, h)
	}
	return nil
}

// at gives the top left corner of a place, counted from 0 along the rows.
func (k Stock) at(place int) (x, y float64) {
	col, row := place%k.Across, place/k.Across
	return k.Left + float64(col)*(k.Width+k.GapX), k.Top + float64(row)*(k.Height+k.GapY)
}
