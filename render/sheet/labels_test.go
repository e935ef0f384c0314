package sheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/render/document"
)

func benchLabels() *document.Labels {
	return &document.Labels{
		Header: document.Header{Number: "SD-114", Revision: "C", Machine: "Rake winch RW40, serial 0210 and up", Digest: "4F7K-29QD"},
		Labels: []document.Label{
			{Count: 1, Name: "drain plug", Detail: "M14×1.5 hex 17 mm", Letter: "A", Off: "2", Back: "8", Torque: "25 N·m"},
			{Count: 12, Name: "cover bolt", Detail: "M8×30 8.8 socket", Holds: "end cover", Letter: "B", Off: "3", Back: "6", Torque: "22 N·m"},
			{Count: 1, Name: "end cover", Detail: "18 kg, hoist", Off: "3", Back: "5"},
			{Count: 1, Name: "old sealing washer", Detail: "copper", Off: "2", Scrap: true},
		},
	}
}

func textOf(t *testing.T, d *Document, words string) Text {
	t.Helper()
	for _, p := range d.Pages {
		for _, o := range p.Ops {
			if x, ok := o.(Text); ok && x.String == words {
				return x
			}
		}
	}
	t.Fatalf("%q is not on the sheet", words)
	return Text{}
}

// "A4, 2 by 5 of 95 × 55 (margins 10, 11 …), cut lines dashed 0.4 pt, 5 mm inside each. Count 46 pt; name 18 …; bag letter white on a
// black 9 mm square; off step → back on step at 26; torque 12; foot 9".
func TestLabelsOnThePage(t *testing.T) {
	d, err := LayLabels(benchLabels(), LabelOptions{Paper: "a4"})
	if err != nil {
		t.Fatal(err)
	}
	all := append(boxes(d, "label"), boxes(d, "blank")...)
	if len(all) != 10 || len(d.Pages) != 1 {
		t.Fatalf("%d labels on %d pages", len(all), len(d.Pages))
	}
	for i, b := range all {
		close2(t, "label, left", b.X, 10+float64(i%2)*95)
		close2(t, "label, top", b.Y, 11+float64(i/2)*55)
		close2(t, "label, width", b.W, 95)
		close2(t, "label, height", b.H, 55)
	}
	for words, want := range map[string]struct {
		size, x, y float64
		face       Face
	}{
		"12":                {46, 110, 27.7, Bold},
		"cover bolt":        {18, 145, 20.3, Bold},
		"M14×1.5 hex 17 mm": {11, 50, 27.7, Regular},
		"off step":          {11, 15, 45.4, Regular},
		"back on step":      {11, 50, 45.4, Regular},
		"8":                 {26, 74.2, 45.4, Bold},
		"25 N·m":            {12, 86, 45.4, Bold},
		"SD-114 C":          {9, 15, 61, Bold},
		"Rake winch RW40":   {9, 32, 61, Regular},
	} {
		x := textOf(t, d, words)
		if x.Size != want.size || x.Face != want.face {
			t.Errorf("%q in face %v, %.1f pt", words, x.Face, x.Size)
		}
		close2(t, words+", left", x.X, want.x)
		close2(t, words+", baseline", x.Y, want.y)
	}
	letter := one(t, d, "letter")
	close2(t, "letter, left", letter.X, 91)
	close2(t, "letter, top", letter.Y, 16)
	close2(t, "letter, side", letter.W, 9)
	if x := textOf(t, d, "A"); x.Colour != (Colour{255, 255, 255}) {
		t.Error("the bag's letter is not white")
	}
	scrap := one(t, d, "scrap")
	close2(t, "SCRAP, right edge", scrap.X+scrap.W, 195)
	close2(t, "SCRAP, height", scrap.H, 10.2)
	for _, b := range boxes(d, "back") {
		if b.X > 105 && b.Y > 66 && b.Y < 121 {
			t.Error("the scrapped washer has a way back")
		}
	}
	for _, o := range d.Pages[0].Ops {
		if x, ok := o.(Line); ok && x.Dash != nil && x.Width != 0.4 {
			t.Errorf("a cut line of %g pt", x.Width)
		}
	}
}

func TestLabelsOnLetter(t *testing.T) {
	d, err := LayLabels(benchLabels(), LabelOptions{Paper: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	all := append(boxes(d, "label"), boxes(d, "blank")...)
	if len(all) != 10 {
		t.Fatalf("%d labels", len(all))
	}
	for i, b := range all {
		close2(t, "label, left", b.X, 10.95+float64(i%2)*97)
		close2(t, "label, top", b.Y, 12.2+float64(i/2)*51)
	}
}

// A sheet already begun: nothing is printed where labels are gone, and the first label stands in the place asked for.
func TestLabelsBeginAnywhere(t *testing.T) {
	for first := 1; first <= 10; first++ {
		d, err := LayLabels(benchLabels(), LabelOptions{First: first})
		if err != nil {
			t.Fatal(err)
		}
		x, y := stockFor("a4").at(first - 1)
		if b := one(t, d, "label"); math.Abs(b.X-x) > 0.01 || math.Abs(b.Y-y) > 0.01 {
			t.Errorf("first %d: at %.1f, %.1f", first, b.X, b.Y)
		}
		for _, o := range d.Pages[0].Ops {
			if l, ok := o.(Line); ok && (l.Y2 < y-0.01 || l.Y1 < y+54 && l.Y2 < y+54.9 && max(l.X1, l.X2) < x-0.01) {
				t.Errorf("first %d: a line at %.1f, %.1f, on what is gone", first, l.X1, l.Y1)
			}
		}
		if got := len(boxes(d, "label")); got != 4 {
			t.Errorf("first %d: %d labels", first, got)
		}
		if pages := (first - 1 + 4 + 9) / 10; len(d.Pages) != pages {
			t.Errorf("first %d: %d pages, want %d", first, len(d.Pages), pages)
		}
	}
	if _, err := LayLabels(benchLabels(), LabelOptions{First: 11}); err == nil {
		t.Error("place 11 of 10 was taken")
	}
}

func TestStocksAreRead(t *testing.T) {
	for s, want := range map[string]Stock{
		"2x5 of 95x55 at 10,11":              {2, 5, 95, 55, 10, 11, 0, 0},
		"3×7 of 63.5x38.1 at 7,15 gap 2.5,0": {3, 7, 63.5, 38.1, 7, 15, 2.5, 0},
	} {
		if got, err := ParseStock(s); err != nil || got != want {
			t.Errorf("%q: %+v, %v", s, got, err)
		}
	}
	for _, s := range []string{"", "2x5", "2x5 of 95x55", "2x5 of 95x55 at 10", "ax5 of 95x55 at 1,2", "2x5x6 of 95x55 at 1,2", "2x5 of 95x55 at 1,2 gap", "2x5 of 95x55 at 1,2 hole 3,4", "2x5 of 95x55mm at 1,2"} {
		if k, err := ParseStock(s); err == nil || !strings.Contains(err.Error(), StockForm) {
			t.Errorf("%q was read as %+v, %v", s, k, err)
		}
	}
	for _, k := range []Stock{
		{2, 5, 95, 58, 10, 11, 0, 0},
		{3, 5, 95, 55, 10, 11, 0, 0},
		{2, 5, 50, 55, 10, 11, 0, 0},
		{2, 5, 95, 20, 10, 11, 0, 0},
		{0, 5, 95, 55, 0, 0, 0, 0},
		{2, 5, math.NaN(), 55, 10, 11, 0, 0},
		{2, 5, 95, 55, -1, 11, 0, 0},
		{100, 100, 95, 55, 0, 0, 0, 0},
	} {
		if _, err := LayLabels(benchLabels(), LabelOptions{Stock: &k}); err == nil {
			t.Errorf("%+v was taken", k)
		}
	}
}

func randomStock(t *rapid.T, w, h float64) *Stock {
	if rapid.Bool().Draw(t, "common stock") {
		return nil
	}
	k := &Stock{Width: float64(rapid.IntRange(60, 130).Draw(t, "width")), Height: float64(rapid.IntRange(34, 90).Draw(t, "height"))}
	k.GapX, k.GapY = float64(rapid.IntRange(0, 3).Draw(t, "gap x")), float64(rapid.IntRange(0, 3).Draw(t, "gap y"))
	k.Across, k.Down = int(w/(k.Width+3)), int(h/(k.Height+3))
	k.Left, k.Top = (w-float64(k.Across)*(k.Width+k.GapX))/2, (h-float64(k.Down)*(k.Height+k.GapY))/2
	return k
}

// Whatever is on a label: each once and in order, nothing outside its inset, nothing on anything else, and the count, the steps and
// the bag's letter always there.
func TestAnyLabelKeepsTheRulesOfThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		labels := benchLabels()
		labels.Header.Machine = said(t, "machine", 12)
		labels.Header.Variant = rapid.SampledFrom([]string{"", "DN450"}).Draw(t, "variant")
		labels.Labels = nil
		for i := range rapid.IntRange(0, 25).Draw(t, "labels") {
			l := document.Label{
				Count: rapid.SampledFrom([]int{1, 8, 12, 148, 12345}).Draw(t, "count"), Name: fmt.Sprintf("#%d# ", i) + said(t, "name", 8), Detail: said(t, "detail", 12),
				Off: rapid.SampledFrom([]string{"1", "12", "38b"}).Draw(t, "off"), Scrap: rapid.Bool().Draw(t, "scrap"),
				Each: rapid.SampledFrom([]string{"", "wheel 1 of 2"}).Draw(t, "each"),
			}
			if !l.Scrap {
				l.Letter = rapid.SampledFrom([]string{"", "A", "W", "AB", "MWM"}).Draw(t, "letter")
				l.Back = rapid.SampledFrom([]string{"", "7", "17", "38c"}).Draw(t, "back")
				l.Torque = rapid.SampledFrom([]string{"", "22 N·m", "150–180 N·m", "150–180 N·m, then 120°"}).Draw(t, "torque")
				l.Holds = rapid.SampledFrom([]string{"", "end cover", "interlocking counterflange of the sluice gate"}).Draw(t, "holds")
			}
			labels.Labels = append(labels.Labels, l)
		}
		paper := rapid.SampledFrom([]string{"a4", "letter"}).Draw(t, "paper")
		g, _ := gridOf(Options{Paper: paper})
		opt := LabelOptions{Paper: paper, Stock: randomStock(t, g.w, g.h)}
		places := stockFor(paper).Places()
		if opt.Stock != nil {
			places = opt.Stock.Places()
		}
		opt.First = rapid.IntRange(1, places).Draw(t, "first")
		d, err := LayLabels(labels, opt)
		if err != nil {
			t.Fatalf("refused: %v", err)
		}
		next, blanks := 0, 0
		for n, p := range d.Pages {
			where := fmt.Sprintf("%s page %d", paper, n+1)
			var bounds []Box
			for _, b := range p.Boxes {
				switch b.Name {
				case "label":
					l := labels.Labels[next]
					if want := itoa(l.Count) + " " + l.Name; b.Text != want {
						t.Fatalf("%s: label %q, want %q", where, b.Text, want)
					}
					labelHolds(t, p, b, l, where)
					next++
					bounds = append(bounds, b)
				case "blank":
					blanks++
					bounds = append(bounds, b)
				}
			}
			for _, o := range p.Ops {
				x, ok := o.(Text)
				if ok && !insideOne(inkOf(x), bounds, 3) {
					t.Errorf("%s: %q at %.1f, %.1f stands in no label", where, x.String, x.X, x.Y)
				}
			}
			textsApart(t, p, where)
			clearOfBlack(t, p, where)
		}
		if next != len(labels.Labels) || opt.First-1+next+blanks != len(d.Pages)*places {
			t.Errorf("%d of %d labels, %d blanks, first %d, %d places a page", next, len(labels.Labels), blanks, opt.First, places)
		}
	})
}

// labelHolds tests that what must never be missing stands on a label.
func labelHolds(t *rapid.T, p Page, b Box, l document.Label, where string) {
	has := map[string]bool{}
	for _, o := range p.Ops {
		if x, ok := o.(Text); ok && insideOne(inkOf(x), []Box{b}, 3) {
			has[x.String] = true
		}
	}
	want := []string{itoa(l.Count), l.Off}
	if l.Scrap {
		want = append(want, "SCRAP")
	} else if l.Back != "" {
		want = append(want, l.Back, l.Torque)
	} else {
		want = append(want, "stays off")
	}
	for _, w := range append(want, l.Letter, l.Each) {
		if w != "" && !has[w] {
			t.Errorf("%s: the label %q has no %q: %v", where, l.Name, w, has)
		}
	}
}

func insideOne(x Box, bounds []Box, inset float64) bool {
	for _, b := range bounds {
		if x.X >= b.X+inset-0.01 && x.X+x.W <= b.X+b.W-inset+0.01 && x.Y >= b.Y+inset-0.01 && x.Y+x.H <= b.Y+b.H-inset+0.01 {
			return true
		}
	}
	return false
}

// clearOfBlack tests that black words keep off black squares and bars, and off arrows.
func clearOfBlack(t *rapid.T, p Page, where string) {
	for _, o := range p.Ops {
		x, ok := o.(Text)
		if !ok || x.Colour == white {
			continue
		}
		a := inkOf(x)
		for _, o := range p.Ops {
			var b Box
			switch y := o.(type) {
			case Rect:
				if !y.Filled {
					continue
				}
				b = Box{X: y.X, Y: y.Y, W: y.W, H: y.H}
			case Polygon:
				b = Box{X: y.Points[0].X, Y: y.Points[0].Y, W: y.Points[1].X - y.Points[0].X, H: y.Points[2].Y - y.Points[0].Y}
			default:
				continue
			}
			if a.X < b.X+b.W-0.01 && b.X < a.X+a.W-0.01 && a.Y < b.Y+b.H-0.01 && b.Y < a.Y+a.H-0.01 {
				t.Errorf("%s: %q lies on black at %.1f, %.1f", where, x.String, b.X, b.Y)
			}
		}
	}
}
