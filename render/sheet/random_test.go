package sheet

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/render/document"
)

var lexicon = strings.Fields("remove install the gate pump bolt cover 12 22 N·m with a socket wrench then check nobody stands below sluice drum rope oil plug washer housing and or slowly by hand until it stops turning interlocking-counterflange")

func sentence(t *rapid.T, label string, most int) []document.Run {
	n := rapid.IntRange(1, most).Draw(t, label)
	var runs []document.Run
	for range n {
		w := rapid.SampledFrom(lexicon).Draw(t, "word")
		runs = append(runs, document.Run{Text: w, Bold: rapid.Bool().Draw(t, "bold"), Keep: true}, document.Run{Text: " "})
	}
	return runs[:len(runs)-1]
}

func randomAct(t *rapid.T, id string) document.Act {
	a := document.Act{Runs: append([]document.Run{{Text: id + " "}}, sentence(t, "act", 30)...), Tick: true}
	switch rapid.IntRange(0, 8).Draw(t, "kind") {
	case 0:
		a.Torque = &document.TorqueBox{Figure: "150–180", Unit: "N·m", Second: "111–133", SecondUnit: "lbf·ft", Angle: "then 90°"}
	case 1:
		for i := range rapid.IntRange(1, 9).Draw(t, "places") {
			a.Boxes = append(a.Boxes, document.MeasureBox{Place: fmt.Sprint(i + 1), Limits: "0.30–0.50", Unit: "mm"})
		}
	case 2:
		a.Tick = false
		a.Torque = &document.TorqueBox{Figure: "22", Unit: "N·m", Second: "16", SecondUnit: "lbf·ft"}
		a.Passes = &document.Passes{Unit: "N·m", SecondUnit: "lbf·ft", Rows: []document.Pass{{Name: "Pass 1", Figure: "15", Second: "11"}, {Name: "Pass 2", Figure: "22", Second: "16"}}, Below: "Same order in each pass; start at 1."}
		if rapid.Bool().Draw(t, "drawn") {
			l := &document.Layout{Part: "cover"}
			for i := range rapid.IntRange(2, 14).Draw(t, "bolts") {
				l.Places = append(l.Places, document.Place{X: rapid.IntRange(0, 5).Draw(t, "x")*3 + i/6, Y: i % 4, Order: i + 1})
			}
			a.Passes.Layout = l
		}
	case 3:
		a.Lines = []string{"Else tell the foreman."}
	case 4:
		a.Figures = []document.Figure{{Key: "f", Type: "png", Caption: "1 wiper, 2 and 4 guide strips, 3 rod seal, 5 gland O-ring"}}
	}
	return a
}

// signedOff is an act that a second person signs, or a list of what stands other than in a whole machine.
func signedOff(t *rapid.T) document.Act {
	if rapid.Bool().Draw(t, "hold") {
		return document.Act{Hold: &document.Hold{For: "the supervisor", Line: 12, Next: "7"}}
	}
	h := &document.Handover{}
	for range rapid.IntRange(1, 9).Draw(t, "lines") {
		h.Lines = append(h.Lines, document.HandoverLine{Label: "Off", Words: "12 cover bolts, 1 end cover, 2 locating dowels"})
	}
	return document.Act{Handover: h}
}

// randomCard draws a card; ids gives every act in order.
func randomCard(t *rapid.T) (card *document.JobCard, ids []string) {
	card = benchCard()
	card.Blocks = card.Blocks[:5]
	n := 0
	for range rapid.IntRange(1, 4).Draw(t, "stages") {
		card.Blocks = append(card.Blocks, document.Stage{Title: "Strip", Range: "steps"})
		for range rapid.IntRange(1, 6).Draw(t, "steps") {
			n++
			s := document.Step{Name: fmt.Sprint(n), Number: n}
			for range rapid.IntRange(0, 2).Draw(t, "panels") {
				s.Panels = append(s.Panels, document.Panel{Signal: rapid.SampledFrom([]string{"DANGER", "WARNING", "CAUTION", "NOTICE"}).Draw(t, "signal"), Hazard: sentence(t, "hazard", 4), Consequence: sentence(t, "consequence", 8), Avoid: sentence(t, "avoid", 8)})
			}
			if rapid.IntRange(0, 5).Draw(t, "drawn before") == 0 {
				s.Before = []document.Block{document.Pile{Name: "brake pack", Target: "41.5–42.5 mm", Layers: []string{"pressure plate", "3 lined discs alternating with 2 steel discs"}}}
			}
			if rapid.IntRange(0, 9).Draw(t, "signed") == 0 {
				s.Acts = []document.Act{signedOff(t)}
				card.Blocks = append(card.Blocks, s)
				continue
			}
			for k := range rapid.IntRange(1, 6).Draw(t, "acts") {
				id := fmt.Sprintf("#%d.%d#", n, k)
				ids = append(ids, id)
				s.Acts = append(s.Acts, randomAct(t, id))
			}
			card.Blocks = append(card.Blocks, s)
		}
	}
	return card, ids
}

// Whatever is on a card: no ink in the margins, nothing below the marks, every act once and in order, and a message on the
// page of its step.
func TestAnyCardKeepsTheRulesOfThePage(t *testing.T) {
	refused, made := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		card, ids := randomCard(t)
		opt := Options{
			Paper: rapid.SampledFrom(everyPaper()).Draw(t, "paper"), Distance: rapid.SampledFrom([]float64{400, 600}).Draw(t, "distance"),
			Sides: rapid.IntRange(1, 2).Draw(t, "sides"), Punch: rapid.SampledFrom([]string{"", "left", "top"}).Draw(t, "punched"),
		}
		paper := opt.Paper
		d, err := LayCard(card, opt)
		if err != nil {
			refused++
			t.Skip("refused: " + err.Error())
		}
		made++
		next, begun := 0, false
		for n, p := range d.Pages {
			limit := 0.0
			for _, b := range p.Boxes {
				if b.Name == "continued" || b.Name == "end" {
					limit = b.Y
				}
			}
			if limit == 0 {
				t.Fatalf("page %d has no mark at its end", n+1)
			}
			panel := false // of a step: not those of the job
			for _, b := range p.Boxes {
				body := strings.HasPrefix(b.Name, "panel") || b.Name == "act" || b.Name == "hold" || b.Name == "handover" || b.Name == "stack" || b.Name == "figure" || b.Name == "tick" || b.Name == "torque" || b.Name == "measure" || b.Name == "layout" || b.Name == "pass"
				if body && b.Y+b.H > limit+0.01 {
					t.Errorf("%s page %d: %s %q reaches %.1f, the mark begins at %.1f", paper, n+1, b.Name, b.Text, b.Y+b.H, limit)
				}
				if b.X < 9.99 || b.X+b.W > d.Width-9.99 || b.Y < 0 || b.Y+b.H > d.Height-9.99 {
					t.Errorf("%s page %d: %s stands outside the margins: %+v", paper, n+1, b.Name, b)
				}
				switch {
				case b.Name == "stage":
					begun = true
				case strings.HasPrefix(b.Name, "panel"):
					panel = begun
				case b.Name == "pass" || b.Name == "layout" || b.Name == "stack" || b.Name == "hold" || b.Name == "handover" || b.Name == "figure" || b.Name == "measure":
					panel = false
				case b.Name == "act":
					panel = false
					if next > 0 && strings.HasPrefix(b.Text, ids[next-1]) {
						continue // repeated above its passes
					}
					if next >= len(ids) || !strings.HasPrefix(b.Text, ids[next]) {
						t.Fatalf("%s page %d: act %q is not the next one", paper, n+1, b.Text)
					}
					next++
				}
			}
			apart(t, p, fmt.Sprintf("%s page %d", paper, n+1))
			if panel {
				t.Errorf("%s page %d: a message at the end, its step on the next page", paper, n+1)
			}
			inkInside(t, d, n, paper)
		}
		if next != len(ids) {
			t.Errorf("%s: %d acts of %d", paper, next, len(ids))
		}
	})
	if refused > made {
		t.Errorf("%d cards were refused and only %d made: what is drawn is too much for small paper", refused, made)
	}
}

func everyPaper() []string {
	var names []string
	for _, p := range papers {
		names = append(names, p.name, p.name+"-landscape")
	}
	return names
}

// inkInside tests that text ends before the right margin.
func inkInside(t *rapid.T, d *Document, n int, paper string) {
	for _, o := range d.Pages[n].Ops {
		if x, ok := o.(Text); ok && x.Angle == 0 {
			s := strings.TrimRight(x.String, " ")
			if right := x.X + textWidth(x.Face, s, x.Size); right > d.Width-9.99 || x.X < 9.99 {
				t.Errorf("%s page %d: %q from %.1f to %.1f on paper %.1f wide", paper, n+1, s, x.X, right, d.Width)
			}
		}
	}
}

// apart tests that no two boxes to fill in or read lie on each other.
func apart(t *rapid.T, p Page, where string) {
	var solid []Box
	for _, b := range p.Boxes {
		switch b.Name {
		case "tick", "torque", "measure", "pass", "layout", "initials", "act", "stack", "figure", "step", "condition", "panel DANGER", "panel WARNING", "panel CAUTION", "panel NOTICE":
			solid = append(solid, b)
		}
	}
	for i, a := range solid {
		for _, b := range solid[:i] {
			if a.X < b.X+b.W-0.01 && b.X < a.X+a.W-0.01 && a.Y < b.Y+b.H-0.01 && b.Y < a.Y+a.H-0.01 {
				t.Errorf("%s: %s %q lies on %s %q", where, a.Name, a.Text, b.Name, b.Text)
			}
		}
	}
}
