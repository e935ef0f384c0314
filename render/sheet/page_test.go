package sheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"refitcard/render/faces"
)

// near is how far a place on the page may be off the page description, in mm.
const near = 0.5

func laid(t *testing.T, opt Options) *Document {
	t.Helper()
	d, err := LayCard(benchCard(), opt)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// boxes gives all boxes of a name, in order.
func boxes(d *Document, name string) []Box {
	var all []Box
	for _, p := range d.Pages {
		for _, b := range p.Boxes {
			if b.Name == name {
				all = append(all, b)
			}
		}
	}
	return all
}

func one(t *testing.T, d *Document, name string) Box {
	t.Helper()
	all := boxes(d, name)
	if len(all) == 0 {
		t.Fatalf("no %q on the card", name)
	}
	return all[0]
}

func close2(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > near {
		t.Errorf("%s at %.2f mm, the page description says %.2f", what, got, want)
	}
}

// The figures are those of the page description: table "Paper and grid" and the blocks below it.
func TestPlacesOnThePage(t *testing.T) {
	for _, c := range []struct {
		opt                       Options
		w, h                      float64
		left, top                 float64
		tickX, tick, textX, textW float64
		valueX, valueW            float64
		module                    float64
	}{
		{Options{Paper: "a4"}, 210, 297, 12, 12, 23, 7, 33, 118, 154.5, 43.5, 0.7},
		{Options{Paper: "a4", Punch: "left", Sides: 1}, 210, 297, 20, 12, 31, 7, 41, 110, 156.5, 41.5, 0.7},
		{Options{Paper: "letter"}, 215.9, 279.4, 12, 12, 23, 7, 33, 122, 158.9, 45, 0.7},
		{Options{Paper: "a5-landscape"}, 210, 148, 12, 10, 23, 7, 33, 118, 154.5, 43.5, 0.7},
		{Options{Paper: "a5"}, 148, 210, 10, 12, 19, 6, 28, 110, 98, 40, 0.65},
		{Options{Paper: "half-letter"}, 139.7, 215.9, 10, 12, 19, 6, 28, 102, 89.7, 40, 0.65},
		{Options{Paper: "half-letter-landscape"}, 215.9, 139.7, 12, 10, 23, 7, 33, 122, 158.9, 45, 0.7},
	} {
		t.Run(fmt.Sprint(c.opt.Paper, c.opt.Punch), func(t *testing.T) {
			d := laid(t, c.opt)
			if d.Width != c.w || d.Height != c.h {
				t.Errorf("paper of %g by %g mm", d.Width, d.Height)
			}
			head := one(t, d, "header")
			close2(t, "header, left", head.X, c.left)
			close2(t, "header, top", head.Y, c.top)
			code := one(t, d, "code")
			close2(t, "scan code, right edge", code.X+code.W, c.w-max(12-2*btoi(c.tick == 6), 10))
			close2(t, "scan code, side", code.W, 21*c.module)
			tick, act := one(t, d, "tick"), one(t, d, "act")
			close2(t, "tick", tick.X, c.tickX)
			close2(t, "tick, side", tick.W, c.tick)
			close2(t, "text", act.X, c.textX)
			close2(t, "text, width", act.W, c.textW)
			close2(t, "tick, middle on the cap height", tick.Y+tick.H/2, act.Y+capHeight(sizeOf(d, "Lock off the"))/2)
			for _, name := range []string{"torque", "measure"} {
				b := one(t, d, name)
				close2(t, name, b.X, c.valueX)
				close2(t, name+", width", b.W, c.valueW)
			}
			close2(t, "measure box, height", one(t, d, "measure").H, 11)
			close2(t, "box for initials, height", one(t, d, "initials").H, 13)
		})
	}
}

func btoi(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// "Header … 20 mm with its rule on A4", "the last baselines stay inside the margin".
func TestHeaderIsTwentyMillimetresHighOnA4(t *testing.T) {
	d := laid(t, Options{})
	close2(t, "header, height", one(t, d, "header").H, 20)
}

// "Its large baseline is the act's first baseline", where the paper has a value column.
func TestTorqueStandsOnTheBaselineOfItsAct(t *testing.T) {
	d := laid(t, Options{})
	for i, p := range d.Pages {
		var act Box
		cap := capHeight(sizeOf(d, "Lock off the"))
		for _, b := range p.Boxes {
			switch b.Name {
			case "act":
				act = b
			case "torque":
				figure := strings.Fields(b.Text)[0]
				base, found := 0.0, false
				for _, o := range p.Ops {
					if x, ok := o.(Text); ok && strings.TrimSpace(x.String) == figure && x.Y > b.Y && x.Y < b.Y+b.H && !found {
						base, found = x.Y, true
					}
				}
				if !found || math.Abs(base-(act.Y+cap)) > 0.01 {
					t.Errorf("page %d: %q on baseline %.2f, its act on %.2f", i+1, b.Text, base, act.Y+cap)
				}
			}
		}
	}
}

// Sizes by "Type, from the reading distance": 20 minutes of arc at 600 mm are 13.7 pt, 18 are 12.3, 16 are 11.0.
func TestSizeFollowsTheReadingDistance(t *testing.T) {
	for _, c := range []struct{ distance, least, most float64 }{{400, 8.2, 9.1}, {450, 9.2, 10.3}, {600, 12.3, 13.7}, {700, 14.4, 16.0}} {
		d := laid(t, Options{Distance: c.distance})
		size := sizeOf(d, "Lock off the")
		if size < c.least-0.05 || size > c.most+0.05 {
			t.Errorf("at %g mm a step is set in %.2f pt, between %.1f and %.1f were wanted", c.distance, size, c.least, c.most)
		}
	}
	d, err := LayCard(benchCard(), Options{Sheets: 1})
	if err != nil {
		t.Fatal(err)
	}
	if size := sizeOf(d, "Lock off the"); size < faces.SizeFor(600, 16)-1e-9 || len(d.Pages) > 2 {
		t.Errorf("on one sheet: %.2f pt, %d pages", size, len(d.Pages))
	}
}

func sizeOf(d *Document, begins string) float64 {
	for _, p := range d.Pages {
		for _, o := range p.Ops {
			if x, ok := o.(Text); ok && strings.HasPrefix(x.String, begins) {
				return x.Size
			}
		}
	}
	return 0
}

func TestTooFewSheetsAreRefusedWithTheirNumber(t *testing.T) {
	card := benchCard()
	for range 3 {
		card.Blocks = append(card.Blocks, card.Blocks...)
	}
	_, err := LayCard(card, Options{Sheets: 1})
	if err == nil || !strings.Contains(err.Error(), "sheets at the least size of type, 11.0 pt") {
		t.Errorf("got %v", err)
	}
}

// On the back of a two-sided card the punched side changes over.
func TestThePunchedSideChangesOver(t *testing.T) {
	d := laid(t, Options{Punch: "left"})
	if len(d.Pages) < 2 {
		t.Fatal("one page only")
	}
	for i, want := range []float64{20, 12} {
		for _, b := range d.Pages[i].Boxes {
			if b.Name == "header" && math.Abs(b.X-want) > near {
				t.Errorf("page %d: left margin %.1f, want %.1f", i+1, b.X, want)
			}
		}
	}
}

// Every signal word has its border and its cell; in black DANGER's is black, WARNING's grey.
func TestLevelsAreToldWithoutColour(t *testing.T) {
	d := laid(t, Options{})
	want := map[string]float64{"DANGER": 5, "WARNING": 3.5, "CAUTION": 2, "NOTICE": 1}
	for signal, pen := range want {
		b := one(t, d, "panel "+signal)
		found := false
		for _, p := range d.Pages {
			for _, o := range p.Ops {
				if r, ok := o.(Rect); ok && r.Stroke == pen && math.Abs(r.X-b.X) < 0.01 && math.Abs(r.Y-b.Y) < 0.01 && r.Colour == (Colour{}) {
					found = true
				}
			}
		}
		if !found {
			t.Errorf("%s has no black border of %g pt", signal, pen)
		}
	}
}
